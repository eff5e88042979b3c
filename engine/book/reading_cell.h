// One cell of a table of readings as a value of a session.
#pragma once

#include <optional>
#include <string_view>

#include "book/reading_mapping.h"
#include "book/reading_session.h"

namespace slipcase::book {

struct ReadingCell {
  std::string_view text;
  std::string_view header;
  Place place;
};

class CellReader {
 public:
  CellReader(const ReadingMapping& mapping, const grounding::GroundRules& rules,
             Diagnostics& diagnostics)
      : mapping_(mapping), rules_(rules), diagnostics_(diagnostics) {}

  /// The cell says that the controller showed no value.
  [[nodiscard]] bool says_not_learned(std::string_view cell) const;
  /// Not of an empty cell. What cannot be or cannot be read is reported.
  [[nodiscard]] std::optional<SessionValue> value(const ReadingCell& cell,
                                                  const ReadingColumn& column,
                                                  grounding::GroundReading reading);
  /// The same where it is not known of what the value is.
  void check(const ReadingCell& cell, const ReadingColumn& column);
  /// "148200 km", as a card has it.
  [[nodiscard]] std::optional<facts::Scalar> quantity(const ReadingCell& cell,
                                                      const units::Unit* unit);
  /// "2031-04-17 14:30"
  [[nodiscard]] std::optional<facts::Scalar> date(const ReadingCell& cell);

 private:
  [[nodiscard]] std::optional<double> number(const ReadingCell& cell);
  [[nodiscard]] std::optional<double> with_sign(double shown, ColumnSign sign,
                                                const ReadingCell& cell);
  [[nodiscard]] bool is_possible(const SessionValue& value, double shown,
                                 const ReadingColumn& column, const units::Dimension& dimension);

  const ReadingMapping& mapping_;
  const grounding::GroundRules& rules_;
  Diagnostics& diagnostics_;
};

}  // namespace slipcase::book
