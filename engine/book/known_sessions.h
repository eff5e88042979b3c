// The sessions of a card, and those that were given before in the same table.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "book/reading_session.h"
#include "evaluation/job_facts.h"

namespace slipcase::book {

struct KnownValue {
  grounding::GroundReading reading;
  std::optional<double> value;  // none: not learned
  Place place;
};

struct KnownSession {
  std::optional<std::int64_t> day;
  std::optional<std::uint16_t> minute;
  std::optional<double> odometer;
  std::vector<KnownValue> values;
  Place place;

  [[nodiscard]] const KnownValue* find(grounding::GroundReading reading) const;
  /// "2031-04-17 14:30, 148200 km"
  [[nodiscard]] std::string when() const;
};

/// Oldest first.
[[nodiscard]] std::vector<KnownSession> sessions_of(const grounding::GroundRules& rules,
                                                    const evaluation::JobFacts& facts);
[[nodiscard]] KnownSession known(const ReadSession& session);

/// Nothing that either says tells them apart: one day and time of day, one odometer.
[[nodiscard]] bool is_same_session(const KnownSession& a, const KnownSession& b);

[[nodiscard]] bool is_same_value(const std::optional<double>& a, const std::optional<double>& b);

}  // namespace slipcase::book
