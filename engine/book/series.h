// The values of one reading over all visits, cut wherever older ones say nothing about newer ones.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "evaluation/job_facts.h"
#include "evaluation/states.h"
#include "facts/job_card.h"
#include "grounding/ground.h"

namespace slipcase::book {

/// What set a reading aside on the day of its own card, as codes that were stored then: the
/// session's place and the reading, with the reason.
using AsideThen = std::map<std::pair<Place, std::uint32_t>, std::string>;

struct History {
  const grounding::GroundRules& ground;
  const facts::JobCard& card;  // merged
  const evaluation::JobFacts& facts;
  const evaluation::Evaluation& states;
  const AsideThen& aside_then;
};

struct SeriesValue {
  std::uint32_t snapshot = 0;
  double value = 0.0;              // base units
  std::optional<double> odometer;  // base units
  std::string aside;               // why it is not used
};

struct Stretch {
  std::vector<std::string> split_by;
  std::string since;  // the first of them in short
  bool split_surely = true;
  std::optional<double> split_at;
  std::vector<SeriesValue> values;
};

/// Oldest first; at least one. The last has no values if something reset the reading since.
[[nodiscard]] std::vector<Stretch> stretches(const History& history,
                                             grounding::GroundReading reading);

/// "2031-03-02, 176850 km"
[[nodiscard]] std::string says_when(const evaluation::Moment& moment, bool miles);

/// The odometer, or the middle of what it can have been.
[[nodiscard]] std::optional<double> near_odometer(const evaluation::Moment& moment);

/// What happened, in the words of the rules.
[[nodiscard]] std::string says_event(const History& history, std::uint32_t event);

/// The software of a session as written; empty if not said.
[[nodiscard]] std::string software_of(const History& history, std::uint32_t snapshot);

/// The distances of the card are in miles.
[[nodiscard]] bool in_miles(const SourceSet& sources, const facts::JobCard& card);

}  // namespace slipcase::book
