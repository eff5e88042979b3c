#include "rulebase/values.h"

#include <cmath>

#include <fmt/core.h>

#include "rulebase/messages.h"
#include "support/suggest.h"

namespace slipcase::rulebase {

namespace {

using units::Dimension;

ValuePtr make_value(const Place& place, const Dimension& dimension, decltype(Value::node) node) {
  return std::make_shared<const Value>(Value{place, dimension, false, std::move(node)});
}

ValuePtr make_constant(const Place& place, const units::Quantity& quantity) {
  return make_value(place, quantity.dimension, ConstantValue{quantity});
}

const ConstantValue* as_constant(const ValuePtr& value) {
  return std::get_if<ConstantValue>(&value->node);
}

class ValueResolver {
 public:
  ValueResolver(Context& context, const Place& place, const Variables& variables,
                const std::optional<Dimension>& expected)
      : context_(context), place_(place), variables_(variables), expected_(expected) {}

  ValuePtr operator()(const language::QuantityLiteral& literal) {
    const auto quantity = resolve_quantity(context_, literal, expected_);
    return quantity ? make_constant(place_, *quantity) : nullptr;
  }

  ValuePtr operator()(const language::DateLiteral& literal) {
    const auto date = units::Date::parse(literal.text);
    if (!date) return nullptr;
    return std::make_shared<const Value>(Value{place_, {}, true, DateValue{*date}});
  }

  ValuePtr operator()(const language::ZeroLiteral&) {
    Dimension dimension = expected_.value_or(units::plain_number());
    if (dimension.on_scale) {
      context_.error(wrong_dimension, place_,
                     "zero of a temperature depends on its unit; write `0 °C`");
      return nullptr;
    }
    return make_constant(place_, {0.0, dimension});
  }

  ValuePtr operator()(const language::Path& path) {
    return resolve_path(context_, path, variables_);
  }

  ValuePtr operator()(const language::SinceValue& since) {
    const auto event = resolve_event(context_, since.event, variables_);
    if (!event) return nullptr;
    const auto base = since.distance ? units::Base::distance : units::Base::duration;
    return make_value(place_, units::of(base), SinceEventValue{since.distance, *event});
  }

  ValuePtr operator()(const language::Difference& difference) {
    const ValuePtr from = resolve_value(context_, *difference.from, variables_);
    const auto expected = from != nullptr ? std::optional(from->dimension) : std::nullopt;
    const ValuePtr subtract = resolve_value(context_, *difference.subtract, variables_, expected);
    if (from == nullptr || subtract == nullptr) return nullptr;
    const bool is_date = from->is_date || subtract->is_date;
    const auto dimension = units::difference(from->dimension, subtract->dimension);
    if (is_date || !dimension) {
      context_.error(wrong_dimension, place_,
                     fmt::format("{} minus {} has no meaning{}", describe_kind(*from),
                                 describe_kind(*subtract),
                                 is_date ? "; for how long ago write `time since` an event" : ""));
      return nullptr;
    }
    return make_value(place_, *dimension, DifferenceValue{from, subtract});
  }

  ValuePtr operator()(const language::Quotient& quotient) {
    // 5 °C per 1000 km is a difference of temperatures over a distance.
    const std::optional<Dimension> difference = units::temperature_difference();
    const ValuePtr over = resolve_value(context_, *quotient.over, variables_, difference);
    const ValuePtr under = resolve_value(context_, *quotient.under, variables_, difference);
    if (over == nullptr || under == nullptr) return nullptr;
    for (const ValuePtr& part : {over, under}) {
      if (!part->is_date && !part->dimension.on_scale) continue;
      context_.error(wrong_dimension, part->place,
                     fmt::format("`per` divides quantities; this is {}", describe_kind(*part)));
      return nullptr;
    }
    return divide(over, under);
  }

 private:
  ValuePtr divide(const ValuePtr& over, const ValuePtr& under) {
    const Dimension dimension = units::quotient(over->dimension, under->dimension);
    const ConstantValue* top = as_constant(over);
    const ConstantValue* bottom = as_constant(under);
    if (bottom != nullptr && bottom->quantity.value == 0.0) {
      context_.error(impossible_number, under->place, "nothing can be divided by 0");
      return nullptr;
    }
    if (top != nullptr && bottom != nullptr) {
      return make_constant(place_, {top->quantity.value / bottom->quantity.value, dimension});
    }
    return make_value(place_, dimension, QuotientValue{over, under});
  }

  Context& context_;
  const Place& place_;
  const Variables& variables_;
  const std::optional<Dimension>& expected_;
};

}  // namespace

ValuePtr resolve_value(Context& context, const language::Value& value, const Variables& variables,
                       const std::optional<Dimension>& expected) {
  return std::visit(ValueResolver(context, value.place, variables, expected), value.node);
}

std::optional<units::Quantity> resolve_quantity(Context& context,
                                                const language::QuantityLiteral& literal,
                                                const std::optional<Dimension>& expected) {
  if (!literal.unit) return units::Quantity{literal.number.value, units::plain_number()};
  const units::Unit* unit = units::find_unit(literal.unit->text);
  if (unit == nullptr) {
    std::string text =
        fmt::format("`{}` is no unit{}", literal.unit->text,
                    context.did_you_mean(literal.unit->text, units::unit_spellings()));
    if (expected) {
      const auto fitting = units::spellings_of(*expected);
      if (!fitting.empty()) text += fmt::format("; {} fits here", quoted_list(fitting, 6));
    }
    context.error(unknown_unit, literal.unit->place, text);
    return std::nullopt;
  }
  const bool difference = unit->dimension.on_scale && expected && !expected->on_scale &&
                          *expected == units::temperature_difference();
  if (difference) {
    if (const units::Unit* as_difference = units::difference_unit(*unit)) unit = as_difference;
  }
  const units::Quantity quantity = units::to_quantity(literal.number.value, *unit);
  if (std::isfinite(quantity.value)) return quantity;
  context.error(impossible_number, literal.place, "this number is too large");
  return std::nullopt;
}

std::optional<units::Quantity> resolve_quantity_of(Context& context,
                                                   const language::QuantityLiteral& literal,
                                                   const Dimension& dimension,
                                                   std::string_view what) {
  const auto quantity = resolve_quantity(context, literal, dimension);
  if (!quantity || quantity->dimension == dimension) return quantity;
  const auto fitting = units::spellings_of(dimension);
  context.error(wrong_dimension, literal.place,
                fmt::format("{} is {}, this is {}; {} fits", what, units::describe(dimension),
                            units::describe(quantity->dimension), quoted_list(fitting, 6)));
  return std::nullopt;
}

std::optional<EventUse> resolve_event(Context& context, const language::EventUse& use,
                                      const Variables& variables) {
  const Symbol* symbol = context.find(use.event.name, Kind::event, "this place");
  if (symbol == nullptr) return std::nullopt;
  const std::string scope = symbol->scope ? context.scope_name(*symbol->scope) : "";
  const auto term = resolve_single(
      context, *symbol, use.event, variables,
      fmt::format("for several write `any {0} ( happened {1} of {0} )`", scope, symbol->name));
  if (!term) return std::nullopt;
  EventUse result;
  result.event = *symbol->event;
  result.member = *term;
  switch (use.by) {
    case language::Hand::anyone:
      break;
    case language::Hand::us:
      result.by = EventUse::Hand::us;
      break;
    case language::Hand::others:
      result.by = EventUse::Hand::others;
      break;
  }
  return result;
}

bool is_literal(const language::Value& value) {
  if (const auto* quotient = std::get_if<language::Quotient>(&value.node)) {
    return is_literal(*quotient->over) && is_literal(*quotient->under);
  }
  return std::holds_alternative<language::QuantityLiteral>(value.node) ||
         std::holds_alternative<language::DateLiteral>(value.node) ||
         std::holds_alternative<language::ZeroLiteral>(value.node);
}

bool is_share(const Value& value) {
  if (const auto* aggregate = std::get_if<AggregateValue>(&value.node)) {
    return is_share(*aggregate->inner);
  }
  const auto* reading = std::get_if<ReadingValue>(&value.node);
  return reading != nullptr && reading->share != ShareOf::nothing;
}

std::string describe_kind(const Value& value) {
  if (value.is_date) return "a date";
  if (is_share(value)) return "a share";
  return units::describe(value.dimension);
}

}  // namespace slipcase::rulebase
