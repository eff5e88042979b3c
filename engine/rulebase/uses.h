// What a condition asks: every detail, reading, event, finding and code in it.
#pragma once

#include <functional>
#include <vector>

#include "rulebase/condition.h"

namespace slipcase::rulebase {

struct FindingUse {
  FindingId finding;
  Place place;
};
struct ReadingUse {
  ReadingId reading;
  ReadingFunction function = ReadingFunction::newest;
  Place place;
};
struct DetailUse {
  DetailId detail;
  Place place;
};
struct CodeUse {
  Place place;
};

struct Uses {
  std::vector<FindingUse> findings;
  std::vector<ReadingUse> readings;
  std::vector<DetailUse> details;
  std::vector<EventUse> events;
  std::vector<CodeUse> codes;
  bool ratio_error = false;
  Place ratio_error_place;
};

[[nodiscard]] Uses uses_of(const Condition& condition);
/// Adds to `uses`.
void collect_uses(const Condition& condition, Uses& uses);

/// Comes from the profile, not from a measurement.
[[nodiscard]] bool is_of_profile(ReadingFunction function);

/// Calls `visit` for the condition and every condition inside it.
void for_each_condition(const Condition& condition,
                        const std::function<void(const Condition&)>& visit);
/// Values that stand directly in the condition, not in conditions inside it.
[[nodiscard]] std::vector<const Value*> direct_values(const Condition& condition);
/// Calls `visit` for the value and every value inside it.
void for_each_value(const Value& value, const std::function<void(const Value&)>& visit);

}  // namespace slipcase::rulebase
