#include "support/condition_referee.h"

#include <algorithm>
#include <stdexcept>

namespace slipcase::test {

using namespace rulebase;
using evaluation::Answer;
using evaluation::DetailFact;
using evaluation::ReadingFact;

std::optional<bool> ConditionReferee::truth(const Condition& condition, MemberId own) const {
  return ask(condition, {own});
}

ConditionReferee::Members::value_type ConditionReferee::member(const Term& term,
                                                               const Members& members) const {
  if (std::holds_alternative<NoMember>(term)) return std::nullopt;
  if (const auto* variable = std::get_if<Variable>(&term)) return members.at(variable->index);
  return std::get<MemberId>(term);
}

std::vector<MemberId> ConditionReferee::chosen_by(const Selection& selection,
                                                  const Members& members) const {
  std::vector<MemberId> list;
  const auto& unit = rules_.rules->unit;
  for (std::uint32_t i = 0; i < unit.scopes[selection.scope.at()].members.size(); ++i) {
    const MemberId candidate{i};
    bool in = true;
    if (selection.other_than) in = in && member(*selection.other_than, members) != candidate;
    if (selection.mark) {
      in = in && unit.marks[selection.mark->mark.at()].on[i] != selection.mark->negated;
    }
    if (selection.relation) {
      const auto object = member(selection.relation->object, members);
      const auto& holds = unit.relations[selection.relation->relation.at()].holds;
      in = in && holds[i][object->at()] != selection.relation->negated;
    }
    if (in) list.push_back(candidate);
  }
  return list;
}

std::optional<bool> ConditionReferee::quantified(const Quantified& node,
                                                 const Members& members) const {
  const auto list = chosen_by(node.selection, members);
  if (list.empty()) return std::nullopt;
  std::size_t yes = 0;
  std::size_t no = 0;
  for (const MemberId each : list) {
    Members inner = members;
    inner.push_back(each);
    const Guess guess = ask(*node.inner, inner);
    yes += guess == true ? 1U : 0U;
    no += guess == false ? 1U : 0U;
  }
  const std::size_t all = list.size();
  switch (node.kind) {
    case Quantified::Kind::every:
      return no > 0 ? Guess(false) : yes == all ? Guess(true) : std::nullopt;
    case Quantified::Kind::any:
      return yes > 0 ? Guess(true) : no == all ? Guess(false) : std::nullopt;
    case Quantified::Kind::no:
      return yes > 0 ? Guess(false) : no == all ? Guess(true) : std::nullopt;
    case Quantified::Kind::at_least_count:
    case Quantified::Kind::at_least_share:
      break;
  }
  const bool share = node.kind == Quantified::Kind::at_least_share;
  const auto enough = [&](std::size_t n) {
    return share ? n * 100 >= node.amount * all : n >= node.amount;
  };
  return enough(yes) ? Guess(true) : !enough(all - no) ? Guess(false) : std::nullopt;
}

void ConditionReferee::unknown_in(const Value& value, const Members& members,
                                  std::vector<std::uint32_t>& readings) const {
  if (const auto* reading = std::get_if<ReadingValue>(&value.node)) {
    const auto at = rules_.readings.at(reading->reading.index, member(reading->member, members));
    if (facts_.readings.at(at).said != ReadingFact::Said::value) readings.push_back(at);
  } else if (const auto* difference = std::get_if<DifferenceValue>(&value.node)) {
    unknown_in(*difference->from, members, readings);
    unknown_in(*difference->subtract, members, readings);
  } else if (const auto* aggregate = std::get_if<AggregateValue>(&value.node)) {
    for (const MemberId each : chosen_by(aggregate->selection, members)) {
      Members inner = members;
      inner.push_back(each);
      unknown_in(*aggregate->inner, inner, readings);
    }
  } else if (!std::holds_alternative<ConstantValue>(value.node)) {
    throw std::logic_error("the referee does not know this value");
  }
}

double ConditionReferee::number(const Value& value, const Members& members,
                                const Chosen& chosen) const {
  if (const auto* constant = std::get_if<ConstantValue>(&value.node)) {
    return constant->quantity.value;
  }
  if (const auto* reading = std::get_if<ReadingValue>(&value.node)) {
    const auto at = rules_.readings.at(reading->reading.index, member(reading->member, members));
    return chosen.at(at) ? *chosen[at] : facts_.readings.at(at).value;
  }
  if (const auto* difference = std::get_if<DifferenceValue>(&value.node)) {
    return number(*difference->from, members, chosen) -
           number(*difference->subtract, members, chosen);
  }
  const auto& aggregate = std::get<AggregateValue>(value.node);
  std::vector<double> numbers;
  for (const MemberId each : chosen_by(aggregate.selection, members)) {
    Members inner = members;
    inner.push_back(each);
    numbers.push_back(number(*aggregate.inner, inner, chosen));
  }
  std::ranges::sort(numbers);
  const std::size_t n = numbers.size();
  switch (aggregate.aggregate) {
    case Aggregate::median:
      return (numbers[(n - 1) / 2] + numbers[n / 2]) / 2.0;
    case Aggregate::largest:
      return numbers.back();
    case Aggregate::smallest:
      return numbers.front();
    case Aggregate::spread:
      break;
  }
  return numbers.back() - numbers.front();
}

/// Every unknown reading runs through its ends and its middle; what is made of readings here rises
/// or falls with each, or (a spread) has its least in the middle.
template <class Holds>
std::optional<bool> ConditionReferee::over_all_values(const std::vector<ValuePtr>& values,
                                                      const Members& members,
                                                      const Holds& holds) const {
  std::vector<std::uint32_t> open;
  for (const auto& value : values) {
    if (const auto* aggregate = std::get_if<AggregateValue>(&value->node)) {
      if (chosen_by(aggregate->selection, members).empty()) return std::nullopt;
    }
    unknown_in(*value, members, open);
  }
  std::sort(open.begin(), open.end());
  open.erase(std::unique(open.begin(), open.end()), open.end());
  Chosen chosen(rules_.readings.size());
  bool some_yes = false;
  bool some_no = false;
  const auto try_all = [&](const auto& self, std::size_t next) -> void {
    if (some_yes && some_no) return;
    if (next == open.size()) {
      std::vector<double> numbers;
      for (const auto& value : values) numbers.push_back(number(*value, members, chosen));
      (holds(numbers) ? some_yes : some_no) = true;
      return;
    }
    const auto& bounds = *rules_.bounds[open[next]];
    std::vector<double> candidates{bounds.lowest_possible, bounds.highest_possible, 0.0};
    // A spread is least where the gaps repeat known values.
    const auto declaration = rules_.readings.origins[open[next]].declaration;
    for (std::size_t i = 0; i < rules_.readings.size(); ++i) {
      const bool known = facts_.readings[i].said == ReadingFact::Said::value;
      if (known && rules_.readings.origins[i].declaration == declaration) {
        candidates.push_back(facts_.readings[i].value);
      }
    }
    for (const double candidate : candidates) {
      if (candidate < bounds.lowest_possible || candidate > bounds.highest_possible) continue;
      chosen[open[next]] = candidate;
      self(self, next + 1);
    }
  };
  try_all(try_all, 0);
  if (some_yes && some_no) return std::nullopt;
  return some_yes;
}

/// Neither below nor above. What can be below and can be above can also be in between, for values
/// have no gaps.
template <class Below, class Above>
std::optional<bool> ConditionReferee::between(const std::vector<ValuePtr>& values,
                                              const Members& members, const Below& below,
                                              const Above& above) const {
  const Guess low = over_all_values(values, members, below);
  const Guess high = over_all_values(values, members, above);
  if (low == true || high == true) return false;
  return low == false && high == false ? Guess(true) : std::nullopt;
}

std::optional<bool> ConditionReferee::ask(const Condition& condition,
                                          const Members& members) const {
  const auto& node = condition.node;
  if (const auto* inner = std::get_if<Not>(&node)) {
    const Guess guess = ask(*inner->inner, members);
    return guess ? Guess(!*guess) : std::nullopt;
  }
  const auto* all = std::get_if<AllOf>(&node);
  const auto* any = std::get_if<AnyOf>(&node);
  if (all != nullptr || any != nullptr) {
    bool open = false;
    for (const auto& part : all != nullptr ? all->parts : any->parts) {
      const Guess guess = ask(*part, members);
      if (guess == (any != nullptr)) return guess;
      open = open || !guess;
    }
    return open ? std::nullopt : Guess(all != nullptr);
  }
  if (const auto* quantifier = std::get_if<Quantified>(&node))
    return quantified(*quantifier, members);
  if (const auto* is = std::get_if<DetailIs>(&node)) {
    const auto& fact = facts_.details[rules_.details.at(is->detail.index, {})];
    if (fact.kind == DetailFact::Kind::unknown) return std::nullopt;
    return fact.word == is->word;
  }
  if (const auto* holds = std::get_if<FindingHolds>(&node)) {
    const auto& answer =
        facts_.answers[rules_.findings.at(holds->finding.index, member(holds->member, members))];
    if (answer.said == Answer::Said::no) return false;
    if (answer.said != Answer::Said::yes) return std::nullopt;
    if (answer.grade == 0) return holds->grade == 1 ? Guess(true) : std::nullopt;
    return answer.grade >= holds->grade;
  }
  if (const auto* known = std::get_if<IsKnown>(&node)) {
    const auto& reading = std::get<ReadingValue>(std::get<ValuePtr>(known->what)->node);
    const auto at = rules_.readings.at(reading.reading.index, member(reading.member, members));
    return facts_.readings[at].said == ReadingFact::Said::value;
  }
  if (const auto* compare = std::get_if<Comparison>(&node)) {
    if (compare->kind == Comparison::Kind::equal) {
      return between(
          {compare->left, compare->right}, members, [](const auto& n) { return n[0] < n[1]; },
          [](const auto& n) { return n[0] > n[1]; });
    }
    return over_all_values({compare->left, compare->right}, members, [&](const auto& n) {
      switch (compare->kind) {
        case Comparison::Kind::less:
          return n[0] < n[1];
        case Comparison::Kind::less_equal:
          return n[0] <= n[1];
        case Comparison::Kind::greater:
          return n[0] > n[1];
        case Comparison::Kind::greater_equal:
          return n[0] >= n[1];
        case Comparison::Kind::equal:
          break;
      }
      return n[0] == n[1];
    });
  }
  if (const auto* within = std::get_if<Within>(&node)) {
    return between(
        {within->value, within->distance}, members, [](const auto& n) { return n[0] < -n[1]; },
        [](const auto& n) { return n[0] > n[1]; });
  }
  throw std::logic_error("the referee does not know this condition");
}

}  // namespace slipcase::test
