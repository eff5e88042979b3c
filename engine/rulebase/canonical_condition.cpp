#include <fmt/core.h>

#include "rulebase/canonical.h"

namespace slipcase::rulebase {

namespace {

std::string number(double value) { return fmt::format("{}", value); }

std::string quantity(const units::Quantity& quantity) {
  std::string text = number(quantity.value);
  for (const auto power : quantity.dimension.exponents) text += fmt::format(",{}", power);
  return text + (quantity.dimension.on_scale ? ",scale" : "");
}

class ValueWriter {
 public:
  explicit ValueWriter(const Rulebase& rules) : rules_(rules) {}

  std::string operator()(const ConstantValue& v) const { return quantity(v.quantity); }
  std::string operator()(const DateValue& v) const { return v.date.text(); }
  std::string operator()(const DetailValue& v) const {
    return named(rules_.details[v.detail.at()].header, v.member);
  }
  std::string operator()(const ReadingValue& v) const {
    return fmt::format("{}.{} {}", static_cast<int>(v.share), static_cast<int>(v.function),
                       named(rules_.readings[v.reading.at()].header, v.member));
  }
  std::string operator()(const RatioErrorValue& v) const {
    return "ratio_error" + canonical_text(rules_, v.gear, rules_.unit.find_scope("gear"));
  }
  std::string operator()(const SinceEventValue& v) const {
    return (v.distance ? "distance since " : "time since ") + event(v.event);
  }
  std::string operator()(const AggregateValue& v) const {
    return fmt::format("over{} {} ({})", static_cast<int>(v.aggregate),
                       canonical_text(rules_, Reach(v.selection), v.selection.scope),
                       canonical_text(rules_, *v.inner));
  }
  std::string operator()(const DifferenceValue& v) const {
    return fmt::format("({} minus {})", canonical_text(rules_, *v.from),
                       canonical_text(rules_, *v.subtract));
  }
  std::string operator()(const QuotientValue& v) const {
    return fmt::format("({} per {})", canonical_text(rules_, *v.over),
                       canonical_text(rules_, *v.under));
  }

  [[nodiscard]] std::string named(const Header& header, const Term& member) const {
    return header.name + canonical_text(rules_, member, header.scope);
  }
  [[nodiscard]] std::string event(const EventUse& use) const {
    return fmt::format("{} by{}", named(rules_.events[use.event.at()].header, use.member),
                       static_cast<int>(use.by));
  }

 private:
  const Rulebase& rules_;
};

class ConditionWriter {
 public:
  explicit ConditionWriter(const Rulebase& rules) : rules_(rules), values_(rules) {}

  std::string operator()(const Not& c) const { return "not " + text(*c.inner); }
  std::string operator()(const AllOf& c) const { return join(c.parts, " and "); }
  std::string operator()(const AnyOf& c) const { return join(c.parts, " or "); }
  std::string operator()(const Quantified& c) const {
    return fmt::format("many{}.{} {} {}", static_cast<int>(c.kind), c.amount,
                       canonical_text(rules_, Reach(c.selection), c.selection.scope),
                       text(*c.inner));
  }
  std::string operator()(const Comparison& c) const {
    return fmt::format("({} cmp{} {})", value(c.left), static_cast<int>(c.kind), value(c.right));
  }
  std::string operator()(const Between& c) const {
    return fmt::format("({} between {} and {})", value(c.value), value(c.low), value(c.high));
  }
  std::string operator()(const Within& c) const {
    return fmt::format("({} within {} of {})", value(c.value), value(c.distance),
                       c.centre == nullptr ? "zero" : value(c.centre));
  }
  std::string operator()(const DetailIs& c) const {
    const Detail& detail = rules_.details[c.detail.at()];
    return fmt::format("({} is {})", values_.named(detail.header, c.member),
                       detail.words.at(c.word));
  }
  std::string operator()(const DetailYes& c) const {
    return values_.named(rules_.details[c.detail.at()].header, c.member);
  }
  std::string operator()(const FindingHolds& c) const {
    return fmt::format("{}/{}", values_.named(rules_.findings[c.finding.at()].header, c.member),
                       c.grade);
  }
  std::string operator()(const IsKnown& c) const {
    if (const auto* known = std::get_if<ValuePtr>(&c.what)) return "known " + value(*known);
    const auto& finding = std::get<IsKnown::FindingRef>(c.what);
    return "known " + values_.named(rules_.findings[finding.finding.at()].header, finding.member);
  }
  std::string operator()(const CodeRange& c) const {
    return fmt::format("{} {} to {}", c.pending ? "pending" : "stored", c.first.text(),
                       c.last.text());
  }
  std::string operator()(const CodeOfFamily& c) const {
    const CodeFamily& family = rules_.unit.code_families.at(c.family.at());
    return fmt::format("{} {}{}", c.pending ? "pending" : "stored", family.name,
                       canonical_text(rules_, c.member, family.scope));
  }
  std::string operator()(const Happened& c) const {
    return fmt::format("{} {}{}", c.on_card ? "on card" : "happened", values_.event(c.event),
                       c.since ? " since " + values_.event(*c.since) : "");
  }
  std::string operator()(const SoonAfter& c) const {
    return fmt::format("{} at most {} after {}", values_.event(c.later), quantity(c.at_most),
                       values_.event(c.earlier));
  }

 private:
  [[nodiscard]] std::string text(const Condition& condition) const {
    return "(" + std::visit(*this, condition.node) + ")";
  }
  [[nodiscard]] std::string value(const ValuePtr& value) const {
    return canonical_text(rules_, *value);
  }
  [[nodiscard]] std::string join(const std::vector<ConditionPtr>& parts,
                                 std::string_view word) const {
    std::string result;
    for (const ConditionPtr& part : parts) {
      if (!result.empty()) result += word;
      result += text(*part);
    }
    return result;
  }

  const Rulebase& rules_;
  ValueWriter values_;
};

std::string selection_text(const Rulebase& rules, const Selection& selection) {
  std::string text = rules.unit.scope(selection.scope).name;
  if (selection.other_than) {
    text += " other than" + canonical_text(rules, *selection.other_than, selection.scope);
  }
  if (selection.mark) {
    text += fmt::format("{} {}", selection.mark->negated ? " not" : "",
                        rules.unit.marks.at(selection.mark->mark.at()).name);
  }
  if (selection.relation) {
    const Relation& relation = rules.unit.relations.at(selection.relation->relation.at());
    text += fmt::format("{} {}{}", selection.relation->negated ? " not" : "", relation.word,
                        canonical_text(rules, selection.relation->object, relation.object));
  }
  return text;
}

}  // namespace

std::string canonical_text(const Rulebase& rules, const Term& term, std::optional<ScopeId> scope) {
  if (const auto* variable = std::get_if<Variable>(&term)) {
    return fmt::format(" of ${}", variable->index);
  }
  const auto* member = std::get_if<MemberId>(&term);
  if (member == nullptr || !scope) return "";
  return " of " + rules.unit.scope(*scope).members.at(member->at());
}

std::string canonical_text(const Rulebase& rules, const Reach& reach,
                           std::optional<ScopeId> scope) {
  if (const auto* term = std::get_if<Term>(&reach)) return canonical_text(rules, *term, scope);
  return " of each " + selection_text(rules, std::get<Selection>(reach));
}

std::string canonical_text(const Rulebase& rules, const Value& value) {
  return std::visit(ValueWriter(rules), value.node);
}

std::string canonical_text(const Rulebase& rules, const Condition& condition) {
  return std::visit(ConditionWriter(rules), condition.node);
}

}  // namespace slipcase::rulebase
