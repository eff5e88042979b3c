// Compiler: the values a condition compares.
#include "grounding/compile.h"

namespace slipcase::grounding {

using rulebase::ReadingFunction;
using rulebase::ShareOf;

std::uint32_t Compiler::value(const rulebase::Value& value) {
  return std::visit([this](const auto& node) { return value_of(node); }, value.node);
}

std::uint32_t Compiler::nothing() {
  ValueNode node;
  node.kind = ValueNode::Kind::nothing;
  return table_.value(node);
}

std::uint32_t Compiler::value_of(const rulebase::ConstantValue& node) {
  return table_.constant(node.quantity.value);
}

std::uint32_t Compiler::value_of(const rulebase::DateValue& node) {
  return table_.constant(static_cast<double>(node.date.days_since_1970()) * milliseconds_per_day);
}

std::uint32_t Compiler::value_of(const rulebase::DetailValue& node) {
  ValueNode made;
  made.kind = ValueNode::Kind::detail;
  made.a = detail_at(node.detail, node.member);
  made.exempt = asker_.exempt;
  return table_.value(made);
}

std::uint32_t Compiler::value_of(const rulebase::ReadingValue& node) {
  ValueNode made;
  made.kind = ValueNode::Kind::reading;
  made.a = ground_.readings.at(node.reading.index, member_of(node.member, bindings_));
  made.function = node.function;
  made.share = node.share;
  const auto& bounds = ground_.bounds.at(made.a);
  const bool of_profile = node.function == ReadingFunction::scatter ||
                          node.function == ReadingFunction::high_limit ||
                          node.function == ReadingFunction::low_limit;
  if (!bounds && (of_profile || node.share != ShareOf::nothing)) return nothing();
  if (of_profile && node.share == ShareOf::nothing) {
    if (node.function == ReadingFunction::scatter) return table_.constant(bounds->scatter);
    if (node.function == ReadingFunction::high_limit) return table_.constant(bounds->high_limit);
    return table_.constant(bounds->low_limit);
  }
  made.exempt = asker_.exempt;
  return table_.value(made);
}

std::uint32_t Compiler::value_of(const rulebase::RatioErrorValue& node) {
  const auto& profile = *ground_.profile;
  const auto gear = member_of(node.gear, bindings_);
  if (!profile.turbine_speed || !profile.output_speed || !gear) return nothing();
  const auto turbine = ground_.rules->find(*profile.turbine_speed);
  const auto output = ground_.rules->find(*profile.output_speed);
  const auto* turbine_id = turbine ? std::get_if<rulebase::ReadingId>(&*turbine) : nullptr;
  const auto* output_id = output ? std::get_if<rulebase::ReadingId>(&*output) : nullptr;
  if (turbine_id == nullptr || output_id == nullptr) return nothing();
  ValueNode made;
  made.kind = ValueNode::Kind::ratio_error;
  made.a = ground_.readings.at(turbine_id->index, gear);
  made.other = ground_.readings.at(output_id->index, gear);
  made.number = profile.gears.at(gear->at()).ratio;
  made.exempt = asker_.exempt;
  return table_.value(made);
}

std::uint32_t Compiler::value_of(const rulebase::SinceEventValue& node) {
  ValueNode made;
  made.kind = node.distance ? ValueNode::Kind::distance_since : ValueNode::Kind::time_since;
  const EventAsked event = asked(node.event);
  made.a = event.event.index;
  made.hand = event.by;
  return table_.value(made);
}

std::uint32_t Compiler::value_of(const rulebase::AggregateValue& node) {
  const auto members = selected(ground_.rules->unit, node.selection, bindings_);
  if (members.empty()) return nothing();
  std::vector<std::uint32_t> operands;
  operands.reserve(members.size());
  bindings_.emplace_back();
  for (const MemberId member : members) {
    bindings_.back() = member;
    operands.push_back(value(*node.inner));
  }
  bindings_.pop_back();
  ValueNode made;
  switch (node.aggregate) {
    case rulebase::Aggregate::median:
      made.kind = ValueNode::Kind::median;
      break;
    case rulebase::Aggregate::largest:
      made.kind = ValueNode::Kind::largest;
      break;
    case rulebase::Aggregate::smallest:
      made.kind = ValueNode::Kind::smallest;
      break;
    case rulebase::Aggregate::spread:
      made.kind = ValueNode::Kind::spread;
      break;
  }
  return table_.value(made, operands);
}

std::uint32_t Compiler::difference(std::uint32_t from, std::uint32_t subtract) {
  const auto a = table_.number_of(from);
  const auto b = table_.number_of(subtract);
  if (a && b) return table_.constant(*a - *b);
  ValueNode made;
  made.kind = ValueNode::Kind::difference;
  return table_.value(made, std::vector{from, subtract});
}

std::uint32_t Compiler::value_of(const rulebase::DifferenceValue& node) {
  const std::uint32_t from = value(*node.from);
  return difference(from, value(*node.subtract));
}

std::uint32_t Compiler::value_of(const rulebase::QuotientValue& node) {
  const std::uint32_t over = value(*node.over);
  const std::uint32_t under = value(*node.under);
  const auto a = table_.number_of(over);
  const auto b = table_.number_of(under);
  if (a && b && *b != 0.0) return table_.constant(*a / *b);
  ValueNode made;
  made.kind = ValueNode::Kind::quotient;
  return table_.value(made, std::vector{over, under});
}

}  // namespace slipcase::grounding
