// Readings of a scan tool's session for a card: from a table, or typed in.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "slipcase/card_value.h"
#include "slipcase/compare.h"
#include "slipcase/diagnostic.h"
#include "slipcase/job.h"
#include "slipcase/knowledge.h"

namespace slipcase {

/// Either values or a table. Texts are those of a card; what is empty was not said.
struct NewReadings {
  std::vector<std::string> values;  // "fill_pressure of K1=40 mbar"
  std::filesystem::path table;      // CSV
  std::filesystem::path mapping;    // YAML: what its columns mean
  std::string date;
  std::string odometer;
  std::string software;
  std::string fluid_temperature;
};

struct AddedValue {
  std::string id;                // "fill_pressure of K3"
  std::string value;             // "320 mbar", "not learned"
  std::optional<double> number;  // in the base unit; none: not learned
  bool on_card = false;          // it was there already, and is not written again
  ReadingRange range = ReadingRange::inside;
  std::string bound;       // the limit or watch line that is reached: "300 mbar"
  bool at_bound = false;   // it is exactly there
  std::string looks_like;  // "-120 mbar": what it is if its sign was lost; empty: no such look
};

struct AddedSession {
  std::string date;  // as they go onto the card
  std::string odometer;
  std::string software;
  std::string fluid_temperature;
  std::vector<AddedValue> values;

  [[nodiscard]] bool is_new() const {
    for (const AddedValue& value : values)
      if (!value.on_card) return true;
    return false;
  }
};

struct AddedReadings {
  std::string job;
  std::string card;  // its file
  std::vector<AddedSession> sessions;
};

struct AddReadings {
  Loaded outcome = Loaded::input_errors;
  std::optional<AddedReadings> readings;  // with no error
  std::vector<CardChange> changes;        // none: everything is on the card already
};

/// What the readings write on the job's card. Nothing of a session that is on it is ever changed.
/// All texts are added to the knowledge's sources.
[[nodiscard]] AddReadings add_readings(const NewReadings& given, const CardText& card,
                                       const Job& job, const Knowledge& knowledge,
                                       Diagnostics& diagnostics);

}  // namespace slipcase
