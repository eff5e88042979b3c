#include <algorithm>

#include <fmt/core.h>

#include "rulebase/meaning.h"
#include "rulebase/messages.h"
#include "rulebase/selected.h"
#include "rulebase/uses.h"

namespace slipcase::rulebase {

namespace {

/// Members that the variables around a place can stand for, all ways.
using Ways = std::vector<std::vector<MemberId>>;

// Where there are more ways than this, nothing is said.
constexpr std::size_t most_ways = 4096;

Ways ways_of(const UnitVocabulary& unit, std::optional<ScopeId> scope) {
  Ways ways;
  for (std::uint32_t m = 0; m < unit.member_count(scope); ++m) ways.push_back({MemberId{m}});
  return ways;
}

class Walk {
 public:
  Walk(const Rulebase& rules, Diagnostics& diagnostics)
      : rules_(rules), diagnostics_(diagnostics) {}

  void condition(const Condition& condition, const Ways& ways) {
    for (const Value* value : direct_values(condition)) {
      for_each_value(*value, [&](const Value& inner) {
        const auto* aggregate = std::get_if<AggregateValue>(&inner.node);
        if (aggregate != nullptr) inside(aggregate->selection, ways);
      });
    }
    if (const auto* negation = std::get_if<Not>(&condition.node)) {
      this->condition(*negation->inner, ways);
    } else if (const auto* all = std::get_if<AllOf>(&condition.node)) {
      for (const ConditionPtr& part : all->parts) this->condition(*part, ways);
    } else if (const auto* any = std::get_if<AnyOf>(&condition.node)) {
      for (const ConditionPtr& part : any->parts) this->condition(*part, ways);
    } else if (const auto* quantified = std::get_if<Quantified>(&condition.node)) {
      quantifier(condition, *quantified, ways);
    }
  }

  void link(const Reach& reach, const OnlyFor& only_for, const Header& header, const Place& place) {
    const auto* selection = std::get_if<Selection>(&reach);
    if (selection == nullptr) return;
    Ways ways = ways_of(rules_.unit, header.scope);
    if (only_for) ways = {{*only_for}};
    if (place == last_link_) return;
    last_link_ = place;
    inside(*selection, ways);
  }

 private:
  void quantifier(const Condition& condition, const Quantified& quantified, const Ways& ways) {
    const Ways inner = inside(quantified.selection, ways);
    if (inner.empty()) return;
    check_amount(condition, quantified, ways);
    if (inner.size() <= most_ways) this->condition(*quantified.inner, inner);
  }

  // `at least 5 other elements` of five elements.
  void check_amount(const Condition& condition, const Quantified& quantified, const Ways& ways) {
    if (quantified.kind != Quantified::Kind::at_least_count) return;
    std::size_t most = 0;
    for (const auto& way : ways) {
      most = std::max(most, selected(rules_.unit, quantified.selection, way).size());
    }
    if (quantified.amount <= most) return;
    diagnostics_.add(
        never_holds, condition.place,
        fmt::format("this can never hold: it asks for {}, and there are never more than {}",
                    quantified.amount, most));
  }

  // All ways with one more member; reports a selection that is empty in every one of them.
  Ways inside(const Selection& selection, const Ways& ways) {
    Ways inner;
    for (const auto& way : ways) {
      for (const MemberId member : selected(rules_.unit, selection, way)) {
        inner.push_back(way);
        inner.back().push_back(member);
        if (inner.size() > most_ways) return inner;
      }
    }
    if (inner.empty()) {
      diagnostics_.add(empty_selection, selection.place,
                       fmt::format("no {} fits this, so nothing is ever asked or reached here",
                                   rules_.unit.scope(selection.scope).name));
    }
    return inner;
  }

  const Rulebase& rules_;
  Diagnostics& diagnostics_;
  Place last_link_;
};

}  // namespace

void warn_of_empty_selections(const Rulebase& rules, Diagnostics& diagnostics) {
  Walk walk(rules, diagnostics);
  for_each_rule_condition(rules, [&](const Header& header, const Condition& condition) {
    walk.condition(condition, ways_of(rules.unit, header.scope));
  });
  for (const Cause& cause : rules.causes) {
    for (const Link& line : cause.shows)
      walk.link(line.reach, line.only_for, cause.header, line.place);
    for (const CauseLink& line : cause.causes) {
      walk.link(line.reach, line.only_for, cause.header, line.place);
    }
  }
  for (const Inside& inside : rules.insides) {
    for (const Link& line : inside.shows) {
      walk.link(line.reach, line.only_for, inside.header, line.place);
    }
  }
}

}  // namespace slipcase::rulebase
