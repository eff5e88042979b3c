// One session with the scan tool, from whatever it was given in, not yet held against the card.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "facts/scalar.h"
#include "grounding/ground.h"
#include "slipcase/diagnostic.h"
#include "units/date.h"
#include "units/quantity.h"

namespace slipcase::book {

inline constexpr std::string_view not_learned_text = "not learned";

struct SessionValue {
  grounding::GroundReading reading;
  std::string text;                   // as it goes onto the card: "40 mbar"
  std::optional<double> value;        // in the base unit; none: not learned
  const units::Unit* unit = nullptr;  // of the text; null: has none, or is not known
  Place place;
};

/// When and how it was read, as texts of a card; what was not given is not there.
struct SessionTexts {
  std::optional<facts::Scalar> date;
  std::optional<facts::Scalar> odometer;
  std::optional<facts::Scalar> software;
  std::optional<facts::Scalar> fluid_temperature;
};

struct ReadSession {
  SessionTexts texts;
  std::optional<units::Moment> moment;
  std::optional<units::Quantity> odometer;
  std::vector<SessionValue> values;
};

/// Checks the texts as a card's would be, at their places.
void take_texts(SessionTexts texts, ReadSession& session, Diagnostics& diagnostics);

/// Refuses a second value of one reading, with both places.
void take_value(const grounding::GroundRules& rules, SessionValue value, ReadSession& session,
                Diagnostics& diagnostics);

}  // namespace slipcase::book
