// What the columns of a scan tool's export mean.
//
// Wide: a row is a session, and each column one reading of one member. Long: all rows are one
// session, and a column says which member a row is about.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "facts/table.h"
#include "grounding/ground.h"
#include "slipcase/diagnostic.h"

namespace slipcase::book {

/// How the column shows a number below zero.
enum class ColumnSign : std::uint8_t {
  as_shown,
  reversed,     // the tool counts the other way
  unsigned_16,  // -120 is 65416
  unsigned_32,
};

struct ReadingColumn {
  std::size_t column = 0;  // in `wanted`
  /// Wide: the reading. Long: that of the first member; a row's is so many behind it.
  grounding::GroundReading reading;
  const units::Unit* unit = nullptr;  // null: a plain number
  ColumnSign sign = ColumnSign::as_shown;
};

struct QuantityColumn {
  std::size_t column = 0;
  const units::Unit* unit = nullptr;
};

/// The column of a long table that names the members; a name that stands for nothing is passed
/// over.
struct MemberColumn {
  std::size_t column = 0;
  grounding::ScopeId scope;
  std::map<std::string, std::optional<grounding::MemberId>, std::less<>> names;
};

struct ReadingMapping {
  facts::TableFormat format;
  std::vector<facts::WantedColumn> wanted;  // all as texts
  std::vector<ReadingColumn> readings;      // at least one
  std::optional<MemberColumn> member;       // of a long table
  std::optional<std::size_t> date;          // in `wanted`
  std::optional<std::size_t> software;
  std::optional<QuantityColumn> odometer;
  std::optional<QuantityColumn> fluid_temperature;
  std::vector<std::string> not_learned;  // cells that say that no value was shown
  bool day_first = false;                // 17.04.2031

  [[nodiscard]] const facts::Scalar& header(std::size_t column) const {
    return wanted[column].header;
  }
};

[[nodiscard]] std::optional<ReadingMapping> read_reading_mapping(
    const SourceSet& sources, SourceId source, const grounding::GroundRules& rules,
    Diagnostics& diagnostics);

}  // namespace slipcase::book
