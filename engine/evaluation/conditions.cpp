#include "evaluation/conditions.h"

#include <algorithm>

namespace slipcase::evaluation {

using grounding::Instruction;
using grounding::Operation;
using grounding::ValueNode;
using Kind = grounding::ValueNode::Kind;

Conditions::Conditions(const grounding::GroundRules& rules) : rules_(rules) {
  for (Known* known : {&now_, &then_}) {
    known->values.resize(rules.programs.values.size());
    known->value_stamps.resize(rules.programs.values.size());
    known->answers.resize(rules.programs.questions.size());
    known->answer_stamps.resize(rules.programs.questions.size());
  }
}

void Conditions::Known::restart() {
  if (++stamp != 0) return;
  // The counter went round: old stamps would look new.
  std::ranges::fill(value_stamps, 0U);
  std::ranges::fill(answer_stamps, 0U);
  stamp = 1;
}

void Conditions::start(const Job& job) {
  job_ = job;
  now_.restart();
}

Truth Conditions::holds(grounding::ProgramId program) {
  return run(rules_.programs.at(program), now_);
}

Truth Conditions::holds_at(grounding::ProgramId program, std::uint32_t snapshot) {
  then_.restart();
  then_.as_of = snapshot;
  return run(rules_.programs.at(program), then_);
}

Truth Conditions::truth_of(const Instruction& instruction) { return leaf(instruction, now_); }

namespace {

/// At least `wanted` of the `count` on top.
Truth counted(std::vector<Truth>& stack, std::uint32_t wanted, std::uint32_t count) {
  std::uint32_t sure = 0;
  std::uint32_t possible = 0;
  for (std::uint32_t i = 0; i < count; ++i) {
    sure += stack.back() == Truth::yes ? 1U : 0U;
    possible += stack.back() != Truth::no ? 1U : 0U;
    stack.pop_back();
  }
  if (sure >= wanted) return Truth::yes;
  return possible < wanted ? Truth::no : Truth::unknown;
}

}  // namespace

Truth Conditions::run(const grounding::Program& program, Known& known) {
  const auto& code = rules_.programs.code;
  stack_.clear();
  for (std::uint32_t at = program.begin; at < program.end; ++at) {
    const Instruction& instruction = code[at];
    switch (instruction.operation) {
      case Operation::negate:
        stack_.back() = negation(stack_.back());
        break;
      case Operation::both:
      case Operation::either: {
        const Truth top = stack_.back();
        stack_.pop_back();
        const bool all = instruction.operation == Operation::both;
        stack_.back() = all ? both(stack_.back(), top) : either(stack_.back(), top);
        break;
      }
      case Operation::at_least: {
        const Truth enough = counted(stack_, instruction.a, instruction.b);
        stack_.push_back(enough);
        break;
      }
      case Operation::jump_if_no:
        if (stack_.back() == Truth::no) at = instruction.a - 1;
        break;
      case Operation::jump_if_yes:
        if (stack_.back() == Truth::yes) at = instruction.a - 1;
        break;
      case Operation::literal:
      case Operation::detail_is:
      case Operation::detail_yes:
      case Operation::finding_holds:
      case Operation::finding_known:
      case Operation::value_known:
      case Operation::question:
      case Operation::less:
      case Operation::less_equal:
      case Operation::equal:
      case Operation::within:
        stack_.push_back(leaf(instruction, known));
        break;
    }
  }
  return stack_.back();
}

Truth Conditions::leaf(const Instruction& instruction, Known& known) {
  const std::uint32_t a = instruction.a;
  const std::uint32_t b = instruction.b;
  switch (instruction.operation) {
    case Operation::literal:
      return static_cast<Truth>(a);
    case Operation::detail_is:
    case Operation::detail_yes:
      return detail(instruction);
    case Operation::finding_holds:
    case Operation::finding_known:
      return finding(instruction);
    case Operation::value_known:
      return truth(value_of(a, known).is_known());
    case Operation::question:
      return answer(a, known);
    case Operation::less:
      return less(value_of(a, known), value_of(b, known));
    case Operation::less_equal:
      return less_equal(value_of(a, known), value_of(b, known));
    case Operation::equal:
      return equal(value_of(a, known), value_of(b, known));
    case Operation::within:
      return less_equal(magnitude(value_of(a, known)), value_of(b, known));
    case Operation::negate:
    case Operation::both:
    case Operation::either:
    case Operation::at_least:
    case Operation::jump_if_no:
    case Operation::jump_if_yes:
      break;
  }
  return Truth::unknown;
}

bool Conditions::is_aside(GroundDetail detail, std::uint32_t exempt) const {
  const auto& left_out = rules_.programs.exemptions[exempt];
  const auto [begin, end] = rules_.distrusts_of_detail.range(detail.at());
  return std::any_of(begin, end, [&](std::uint32_t distrust) {
    return (*job_.distrusts)[distrust] == Truth::yes &&
           !std::ranges::binary_search(left_out, distrust);
  });
}

Truth Conditions::detail(const Instruction& instruction) const {
  const DetailFact& fact = job_.facts->details[instruction.a];
  if (fact.kind == DetailFact::Kind::unknown) return Truth::unknown;
  if (is_aside(GroundDetail{instruction.a}, instruction.exempt)) return Truth::unknown;
  if (instruction.operation == Operation::detail_yes) return truth(fact.yes);
  return truth(fact.word == instruction.b);
}

Truth Conditions::finding(const Instruction& instruction) const {
  const FindingView& view = (*job_.findings)[instruction.a];
  const bool open = view.clashes && !instruction.own_value;
  if (instruction.operation == Operation::finding_known) {
    return truth(!open && (view.at_least >= 1 || view.at_most == 0));
  }
  if (open) return Truth::unknown;
  if (view.at_least >= instruction.b) return Truth::yes;
  return view.at_most < instruction.b ? Truth::no : Truth::unknown;
}

Truth Conditions::answer(std::uint32_t question, Known& known) {
  if (known.answer_stamps[question] != known.stamp) {
    known.answers[question] =
        History(*job_.facts).answer(rules_.programs.questions[question], known.as_of);
    known.answer_stamps[question] = known.stamp;
  }
  return known.answers[question];
}

// --- values -----------------------------------------------------------------------------------

const Interval& Conditions::value_of(std::uint32_t value, Known& known) {
  if (known.value_stamps[value] != known.stamp) {
    known.values[value] = worked_out(rules_.programs.values[value], known);
    known.value_stamps[value] = known.stamp;
  }
  return known.values[value];
}

Interval Conditions::of_detail(const ValueNode& node) const {
  const DetailFact& fact = job_.facts->details[node.a];
  if (fact.kind == DetailFact::Kind::unknown || is_aside(GroundDetail{node.a}, node.exempt)) {
    return Interval::anything();
  }
  // A yes or a word is asked here only for whether it is known.
  return Interval::point(fact.kind == DetailFact::Kind::number ? fact.number : 0.0);
}

Interval Conditions::worked_out(const ValueNode& node, Known& known) {
  const auto& operands = rules_.programs.operands;
  const grounding::EventAsked event{GroundEvent{node.a}, node.hand};
  switch (node.kind) {
    case Kind::constant:
      return Interval::point(node.number);
    case Kind::nothing:
      return Interval::anything();
    case Kind::detail:
      return of_detail(node);
    case Kind::reading:
    case Kind::ratio_error:
      return Readings(rules_, *job_.facts, *job_.set_aside).value(node, known.as_of);
    case Kind::time_since:
      return History(*job_.facts).time_since(event, known.as_of);
    case Kind::distance_since:
      return History(*job_.facts).distance_since(event, known.as_of);
    case Kind::median:
    case Kind::largest:
    case Kind::smallest:
    case Kind::spread:
      return aggregate(node, known);
    case Kind::difference:
    case Kind::quotient:
      break;
  }
  const Interval first = value_of(operands[node.operands_begin], known);
  const Interval second = value_of(operands[node.operands_begin + 1], known);
  return node.kind == Kind::difference ? difference(first, second) : quotient(first, second);
}

/// Median, largest and smallest rise with each value, so their ends come from the ends alone.
Interval Conditions::aggregate(const ValueNode& node, Known& known) {
  std::vector<Interval> values;
  for (std::uint32_t i = node.operands_begin; i < node.operands_end; ++i) {
    values.push_back(value_of(rules_.programs.operands[i], known));
  }
  if (node.kind == Kind::spread) return spread(values);
  lows_.clear();
  highs_.clear();
  for (const Interval& value : values) {
    lows_.push_back(value.low);
    highs_.push_back(value.high);
  }
  if (node.kind == Kind::largest) {
    return {*std::ranges::max_element(lows_), *std::ranges::max_element(highs_)};
  }
  if (node.kind == Kind::smallest) {
    return {*std::ranges::min_element(lows_), *std::ranges::min_element(highs_)};
  }
  return {median(lows_), median(highs_)};
}

Interval spread(const std::vector<Interval>& values) {
  double largest_low = -infinite;
  double smallest_high = infinite;
  double widest = 0.0;
  for (std::size_t i = 0; i < values.size(); ++i) {
    largest_low = std::max(largest_low, values[i].low);
    smallest_high = std::min(smallest_high, values[i].high);
    for (std::size_t j = 0; j < values.size(); ++j) {
      // One value cannot stand at both of its ends.
      if (i != j) widest = std::max(widest, difference(values[i], values[j]).high);
    }
  }
  if (values.size() < 2) return Interval::point(0.0);
  return {std::max(0.0, difference({largest_low, 0.0}, {0.0, smallest_high}).low), widest};
}

}  // namespace slipcase::evaluation
