#include "rulebase/uses.h"

namespace slipcase::rulebase {

namespace {

struct ValuesOf {
  std::vector<const Value*> operator()(const Comparison& c) const {
    return {c.left.get(), c.right.get()};
  }
  std::vector<const Value*> operator()(const Between& c) const {
    return {c.value.get(), c.low.get(), c.high.get()};
  }
  std::vector<const Value*> operator()(const Within& c) const {
    std::vector<const Value*> values{c.value.get(), c.distance.get()};
    if (c.centre != nullptr) values.push_back(c.centre.get());
    return values;
  }
  std::vector<const Value*> operator()(const IsKnown& c) const {
    const auto* value = std::get_if<ValuePtr>(&c.what);
    if (value == nullptr) return {};
    return {value->get()};
  }
  template <class Other>
  std::vector<const Value*> operator()(const Other&) const {
    return {};
  }
};

void collect_value(const Value& value, Uses& uses) {
  if (const auto* detail = std::get_if<DetailValue>(&value.node)) {
    uses.details.push_back({detail->detail, value.place});
  } else if (const auto* reading = std::get_if<ReadingValue>(&value.node)) {
    uses.readings.push_back({reading->reading, reading->function, value.place});
  } else if (const auto* since = std::get_if<SinceEventValue>(&value.node)) {
    uses.events.push_back(since->event);
  } else if (std::holds_alternative<RatioErrorValue>(value.node)) {
    uses.ratio_error = true;
    uses.ratio_error_place = value.place;
  }
}

struct CollectLeaf {
  const Place& place;
  Uses& uses;

  void operator()(const DetailIs& c) const { uses.details.push_back({c.detail, place}); }
  void operator()(const DetailYes& c) const { uses.details.push_back({c.detail, place}); }
  void operator()(const FindingHolds& c) const { uses.findings.push_back({c.finding, place}); }
  void operator()(const IsKnown& c) const {
    const auto* finding = std::get_if<IsKnown::FindingRef>(&c.what);
    if (finding != nullptr) uses.findings.push_back({finding->finding, place});
  }
  void operator()(const CodeRange&) const { uses.codes.push_back({place}); }
  void operator()(const CodeOfFamily&) const { uses.codes.push_back({place}); }
  void operator()(const Happened& c) const {
    uses.events.push_back(c.event);
    if (c.since) uses.events.push_back(*c.since);
  }
  void operator()(const SoonAfter& c) const {
    uses.events.push_back(c.later);
    uses.events.push_back(c.earlier);
  }
  template <class Other>
  void operator()(const Other&) const {}
};

}  // namespace

std::vector<const Value*> direct_values(const Condition& condition) {
  return std::visit(ValuesOf{}, condition.node);
}

void for_each_value(const Value& value, const std::function<void(const Value&)>& visit) {
  visit(value);
  if (const auto* aggregate = std::get_if<AggregateValue>(&value.node)) {
    for_each_value(*aggregate->inner, visit);
  } else if (const auto* difference = std::get_if<DifferenceValue>(&value.node)) {
    for_each_value(*difference->from, visit);
    for_each_value(*difference->subtract, visit);
  } else if (const auto* quotient = std::get_if<QuotientValue>(&value.node)) {
    for_each_value(*quotient->over, visit);
    for_each_value(*quotient->under, visit);
  }
}

bool is_of_profile(ReadingFunction function) {
  return function == ReadingFunction::scatter || function == ReadingFunction::high_limit ||
         function == ReadingFunction::low_limit;
}

void for_each_condition(const Condition& condition,
                        const std::function<void(const Condition&)>& visit) {
  visit(condition);
  if (const auto* negation = std::get_if<Not>(&condition.node)) {
    for_each_condition(*negation->inner, visit);
  } else if (const auto* all = std::get_if<AllOf>(&condition.node)) {
    for (const ConditionPtr& part : all->parts) for_each_condition(*part, visit);
  } else if (const auto* any = std::get_if<AnyOf>(&condition.node)) {
    for (const ConditionPtr& part : any->parts) for_each_condition(*part, visit);
  } else if (const auto* quantified = std::get_if<Quantified>(&condition.node)) {
    for_each_condition(*quantified->inner, visit);
  }
}

void collect_uses(const Condition& condition, Uses& uses) {
  for_each_condition(condition, [&](const Condition& part) {
    std::visit(CollectLeaf{part.place, uses}, part.node);
    for (const Value* value : direct_values(part)) {
      for_each_value(*value, [&](const Value& inner) { collect_value(inner, uses); });
    }
  });
}

Uses uses_of(const Condition& condition) {
  Uses uses;
  collect_uses(condition, uses);
  return uses;
}

}  // namespace slipcase::rulebase
