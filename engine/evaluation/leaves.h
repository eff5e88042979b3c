// What a value or a question of a condition is made of in the end: details, readings, events,
// codes. One walk for all who ask which facts stand behind a condition.
#pragma once

#include <variant>

#include "grounding/ground.h"

namespace slipcase::evaluation {

/// Scatter and limits of a reading are the profile's.
[[nodiscard]] inline bool asks_the_card(rulebase::ReadingFunction function) {
  using Function = rulebase::ReadingFunction;
  return function != Function::scatter && function != Function::high_limit &&
         function != Function::low_limit;
}

using ValueKind = grounding::ValueNode::Kind;

/// Calls visit.detail(GroundDetail), visit.reading(GroundReading, ReadingFunction) and
/// visit.event(GroundEvent) for all that the value is worked out from.
template <class Visitor>
void visit_leaves_of_value(const grounding::Programs& programs, std::uint32_t index,
                           Visitor& visit) {
  const grounding::ValueNode& node = programs.values[index];
  switch (node.kind) {
    case ValueKind::detail:
      visit.detail(grounding::GroundDetail{node.a});
      break;
    case ValueKind::reading:
      if (asks_the_card(node.function))
        visit.reading(grounding::GroundReading{node.a}, node.function);
      break;
    case ValueKind::ratio_error:
      visit.reading(grounding::GroundReading{node.a}, rulebase::ReadingFunction::newest);
      visit.reading(grounding::GroundReading{node.other}, rulebase::ReadingFunction::newest);
      break;
    case ValueKind::time_since:
    case ValueKind::distance_since:
      visit.event(grounding::GroundEvent{node.a});
      break;
    case ValueKind::constant:
    case ValueKind::nothing:
    case ValueKind::median:
    case ValueKind::largest:
    case ValueKind::smallest:
    case ValueKind::spread:
    case ValueKind::difference:
    case ValueKind::quotient:
      break;
  }
  for (std::uint32_t i = node.operands_begin; i < node.operands_end; ++i)
    visit_leaves_of_value(programs, programs.operands[i], visit);
}

/// Calls visit.event(GroundEvent) and visit.codes(const CodeQuestion&).
template <class Visitor>
void visit_leaves_of_question(const grounding::Question& question, Visitor& visit) {
  if (const auto* happened = std::get_if<grounding::HappenedQuestion>(&question)) {
    visit.event(happened->event.event);
    if (happened->since) visit.event(happened->since->event);
  } else if (const auto* soon = std::get_if<grounding::SoonAfterQuestion>(&question)) {
    visit.event(soon->later.event);
    visit.event(soon->earlier.event);
  } else {
    visit.codes(std::get<grounding::CodeQuestion>(question));
  }
}

/// All that one step of a condition asks. Calls also visit.finding(GroundFinding).
/// No `default`: a new operation must be thought of here.
template <class Visitor>
void visit_leaves_of(const grounding::Programs& programs, const grounding::Instruction& step,
                     Visitor& visit) {
  using grounding::Operation;
  switch (step.operation) {
    case Operation::detail_is:
    case Operation::detail_yes:
      visit.detail(grounding::GroundDetail{step.a});
      break;
    case Operation::finding_holds:
    case Operation::finding_known:
      visit.finding(grounding::GroundFinding{step.a});
      break;
    case Operation::value_known:
      visit_leaves_of_value(programs, step.a, visit);
      break;
    case Operation::less:
    case Operation::less_equal:
    case Operation::equal:
    case Operation::within:
      visit_leaves_of_value(programs, step.a, visit);
      visit_leaves_of_value(programs, step.b, visit);
      break;
    case Operation::question:
      visit_leaves_of_question(programs.questions[step.a], visit);
      break;
    case Operation::literal:
    case Operation::negate:
    case Operation::both:
    case Operation::either:
    case Operation::at_least:
    case Operation::jump_if_no:
    case Operation::jump_if_yes:
      break;
  }
}

}  // namespace slipcase::evaluation
