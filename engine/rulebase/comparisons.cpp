#include "rulebase/comparisons.h"

#include <fmt/core.h>

#include "rulebase/messages.h"
#include "rulebase/values.h"
#include "support/suggest.h"

namespace slipcase::rulebase {

namespace {

std::optional<units::Dimension> dimension_of(const ValuePtr& value) {
  if (value == nullptr || value->is_date) return std::nullopt;
  return value->dimension;
}

struct Sides {
  ValuePtr left;
  ValuePtr right;
};

// A literal takes its meaning from the other side, so that one goes first.
Sides resolve_sides(Context& context, const language::Value& left, const language::Value& right,
                    const Variables& variables) {
  Sides sides;
  if (is_literal(left)) {
    sides.right = resolve_value(context, right, variables);
    sides.left = resolve_value(context, left, variables, dimension_of(sides.right));
  } else {
    sides.left = resolve_value(context, left, variables);
    sides.right = resolve_value(context, right, variables, dimension_of(sides.left));
  }
  return sides;
}

bool lacks_percent(const language::Value& value) {
  const auto* literal = std::get_if<language::QuantityLiteral>(&value.node);
  return literal != nullptr && !literal->unit && literal->number.value != 0.0;
}

std::string unit_hint(const Value& measure, const Value& other) {
  if (measure.is_date) return "; write a date like 2031-04-22";
  if (other.is_date) return "";
  const auto fitting = units::spellings_of(measure.dimension);
  if (!std::holds_alternative<ConstantValue>(other.node) || fitting.empty()) return "";
  return fmt::format("; write it in {}", quoted_list(fitting, 6));
}

// `other` is compared with `measure` and is the one that is pointed at.
bool check_same(Context& context, const Value& measure, const Value& other,
                const language::Value& written) {
  if (is_share(measure) && lacks_percent(written)) {
    context.error(share_in_percent, other.place, "a share is written in percent, as in `40 %`");
    return false;
  }
  if (measure.is_date == other.is_date &&
      (measure.is_date || measure.dimension == other.dimension)) {
    return true;
  }
  context.error(wrong_dimension, other.place,
                fmt::format("{} cannot be compared with {}{}", describe_kind(other),
                            describe_kind(measure), unit_hint(measure, other)));
  return false;
}

Comparison::Kind kind_of(language::Comparator comparator) {
  switch (comparator) {
    case language::Comparator::less:
      return Comparison::Kind::less;
    case language::Comparator::less_equal:
      return Comparison::Kind::less_equal;
    case language::Comparator::greater:
      return Comparison::Kind::greater;
    case language::Comparator::greater_equal:
      return Comparison::Kind::greater_equal;
    case language::Comparator::equal:
      return Comparison::Kind::equal;
  }
  return Comparison::Kind::equal;
}

units::Dimension difference_of(const units::Dimension& dimension) {
  units::Dimension difference = dimension;
  difference.on_scale = false;
  return difference;
}

}  // namespace

ConditionPtr resolve_comparison(Context& context, const language::Comparison& node,
                                const Place& place, const Variables& variables) {
  const Sides sides = resolve_sides(context, node.left, node.right, variables);
  if (sides.left == nullptr || sides.right == nullptr) return nullptr;
  const bool good = is_literal(node.left)
                        ? check_same(context, *sides.right, *sides.left, node.left)
                        : check_same(context, *sides.left, *sides.right, node.right);
  if (!good) return nullptr;
  return make_condition(place, Comparison{kind_of(node.comparator), sides.left, sides.right});
}

ConditionPtr resolve_between(Context& context, const language::Between& node, const Place& place,
                             const Variables& variables) {
  const ValuePtr value = resolve_value(context, node.value, variables);
  const auto expected = dimension_of(value);
  const ValuePtr low = resolve_value(context, node.low, variables, expected);
  const ValuePtr high = resolve_value(context, node.high, variables, expected);
  if (value == nullptr || low == nullptr || high == nullptr) return nullptr;
  const bool low_fits = check_same(context, *value, *low, node.low);
  const bool high_fits = check_same(context, *value, *high, node.high);
  if (!low_fits || !high_fits) return nullptr;
  return make_condition(place, Between{value, low, high});
}

ConditionPtr resolve_within(Context& context, const language::Within& node, const Place& place,
                            const Variables& variables) {
  const ValuePtr value = resolve_value(context, node.value, variables);
  if (value != nullptr && value->is_date) {
    context.error(
        wrong_dimension, value->place,
        "a date cannot be within something of another; compare it, or write `time since` an "
        "event");
    return nullptr;
  }
  const auto expected = dimension_of(value);
  const auto step = expected ? std::optional(difference_of(*expected)) : std::nullopt;
  const ValuePtr distance = resolve_value(context, node.distance, variables, step);
  const bool of_zero = std::holds_alternative<language::ZeroLiteral>(node.centre.node);
  ValuePtr centre;
  if (!of_zero || (expected && expected->on_scale)) {
    centre = resolve_value(context, node.centre, variables, expected);
    if (centre == nullptr) return nullptr;
  }
  if (value == nullptr || distance == nullptr) return nullptr;
  Value measure = *value;
  measure.dimension = *step;
  const bool distance_fits = check_same(context, measure, *distance, node.distance);
  const bool centre_fits = centre == nullptr || check_same(context, *value, *centre, node.centre);
  if (!distance_fits || !centre_fits) return nullptr;
  return make_condition(place, Within{value, distance, centre});
}

}  // namespace slipcase::rulebase
