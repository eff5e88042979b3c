#include "evaluation/evaluator.h"

#include <algorithm>

namespace slipcase::evaluation {

using grounding::EvaluationStep;
using grounding::GroundRules;

Evaluator::Evaluator(std::shared_ptr<const GroundRules> rules)
    : rules_(std::move(rules)), conditions_(*rules_) {
  const std::size_t findings = rules_->findings.size();
  states_.resize(findings);
  views_.resize(findings);
  contradicts_.resize(findings);
  distrusts_.resize(rules_->distrusts.size());
  evaluation_.distrusts.resize(rules_->distrusts.size());
  evaluation_.becomes.resize(rules_->becomes.size());
  evaluation_.restrictions.resize(rules_->restrictions.size());
  dirty_.resize(rules_->order.size() + rules_->becomes.size() + rules_->restrictions.size());
}

const Evaluation& Evaluator::evaluate(const JobFacts& facts) {
  facts_ = facts;
  size_up();
  marking_ = false;
  const auto steps = static_cast<std::uint32_t>(rules_->order.size());
  for (std::uint32_t position = 0; position < steps; ++position) run_step(position);
  const auto lines = static_cast<std::uint32_t>(dirty_.size()) - steps;
  for (std::uint32_t line = 0; line < lines; ++line) run_line(line);
  marking_ = true;
  finish();
  return evaluation_;
}

void Evaluator::size_up() {
  set_aside_.assign(rules_->distrusts.size() * facts_.snapshots.size(), Truth::no);
  std::ranges::fill(views_, FindingView{});
  std::ranges::fill(distrusts_, Truth::no);
  anything_aside_ = false;
  conditions_.start({&facts_, &views_, &set_aside_, &distrusts_});
}

void Evaluator::run_step(std::uint32_t position) {
  const EvaluationStep& step = rules_->order[position];
  switch (step.kind) {
    case EvaluationStep::Kind::finding:
      run_finding(position, GroundFinding{step.index});
      break;
    case EvaluationStep::Kind::distrust:
      run_distrust(step.index);
      break;
  }
}

void Evaluator::run_line(std::uint32_t line) {
  const auto becomes = static_cast<std::uint32_t>(rules_->becomes.size());
  if (line < becomes) {
    evaluation_.becomes[line] = conditions_.holds(rules_->becomes[line].when);
  } else {
    const std::uint32_t restriction = line - becomes;
    evaluation_.restrictions[restriction] =
        conditions_.holds(rules_->restrictions[restriction].when);
  }
}

// --- findings ---------------------------------------------------------------------------------

namespace {

State state_of(std::uint32_t at_least, std::uint32_t at_most) {
  if (at_least >= 1) return State::present;
  return at_most == 0 ? State::absent : State::unknown;
}

}  // namespace

/// At least the strongest grade known to hold, at most the one below the weakest beyond it that is
/// known not to.
FindingState Evaluator::worked_out(GroundFinding finding) {
  const auto& programs = rules_->finding_rules[finding.at()].at_least;
  const std::uint32_t grades = rules_->declaration(finding).grade_count();
  FindingState state;
  state.at_most = grades;
  for (std::uint32_t i = 0; i < programs.size(); ++i) {
    if (!programs[i]) continue;
    const Truth holds = conditions_.holds(*programs[i]);
    if (holds == Truth::yes) {
      state.at_least = i + 1;
      state.at_most = grades;
    } else if (holds == Truth::no) {
      state.at_most = std::min(state.at_most, i);
    }
  }
  state.state = state_of(state.at_least, state.at_most);
  if (state.at_least > 0 || state.at_most < grades) state.basis = Basis::worked_out;
  return state;
}

std::optional<std::uint32_t> Evaluator::set_aside_by(GroundFinding finding) const {
  const auto [begin, end] = rules_->distrusts_of_finding.range(finding.at());
  const auto* found = std::find_if(
      begin, end, [&](std::uint32_t distrust) { return distrusts_[distrust] == Truth::yes; });
  return found == end ? std::nullopt : std::optional(*found);
}

/// The distrust that withholds a reading or a detail from an unknown finding.
std::optional<std::uint32_t> Evaluator::withheld_by(std::uint32_t position,
                                                    GroundFinding finding) const {
  const Readings readings(*rules_, facts_, set_aside_);
  const auto withheld_detail = [&](GroundDetail detail,
                                   std::uint32_t exempt) -> std::optional<std::uint32_t> {
    if (facts_.details[detail.at()].kind == DetailFact::Kind::unknown) return std::nullopt;
    if (!conditions_.is_aside(detail, exempt)) return std::nullopt;
    const auto [begin, end] = rules_->distrusts_of_detail.range(detail.at());
    return *std::find_if(begin, end, [&](std::uint32_t d) { return distrusts_[d] == Truth::yes; });
  };
  const auto [begin, end] = rules_->dependents.values_asked.range(position);
  for (const auto* value = begin; value != end; ++value) {
    const auto& node = rules_->programs.values[*value];
    const bool detail = node.kind == grounding::ValueNode::Kind::detail;
    const auto distrust =
        detail ? withheld_detail(GroundDetail{node.a}, node.exempt) : readings.withheld_by(node);
    if (distrust) return distrust;
  }
  for (const auto& program : rules_->finding_rules[finding.at()].at_least) {
    if (!program) continue;
    const auto& code = rules_->programs.at(*program);
    for (std::uint32_t at = code.begin; at < code.end; ++at) {
      const auto& instruction = rules_->programs.code[at];
      const bool detail = instruction.operation == grounding::Operation::detail_is ||
                          instruction.operation == grounding::Operation::detail_yes;
      if (!detail) continue;
      if (const auto d = withheld_detail(GroundDetail{instruction.a}, instruction.exempt)) return d;
    }
  }
  return std::nullopt;
}

FindingState Evaluator::settled(std::uint32_t position, GroundFinding finding, bool& contradicts) {
  FindingState state = worked_out(finding);
  const std::uint32_t grades = rules_->declaration(finding).grade_count();
  const Answer& answer = facts_.answers[finding.at()];
  contradicts = false;
  if (answer.said == Answer::Said::no || answer.said == Answer::Said::yes) {
    const bool yes = answer.said == Answer::Said::yes;
    const std::uint32_t low = !yes ? 0 : std::max(answer.grade, 1U);
    const std::uint32_t high = !yes ? 0 : answer.grade == 0 ? grades : answer.grade;
    contradicts = low > state.at_most || high < state.at_least;
    // A plain "yes" is made no weaker by a grade that was worked out.
    state.at_least = contradicts ? low : std::max(low, state.at_least);
    state.at_most = contradicts ? high : std::min(high, state.at_most);
    state.state = state_of(state.at_least, state.at_most);
    state.basis = Basis::answer;
    state.said_at = answer.place;
  }
  state.distrust = set_aside_by(finding);
  if (!state.distrust && state.state == State::unknown) {
    if (anything_aside_) state.distrust = withheld_by(position, finding);
    if (state.distrust) state.state = State::set_aside;
  } else if (state.distrust) {
    state.state = State::set_aside;
    state.at_least = 0;
    state.at_most = grades;
    contradicts = false;
  }
  return state;
}

void Evaluator::run_finding(std::uint32_t position, GroundFinding finding) {
  bool contradicts = false;
  states_[finding.at()] = settled(position, finding, contradicts);
  contradicts_[finding.at()] = contradicts;
  const FindingState& state = states_[finding.at()];
  FindingView& view = views_[finding.at()];
  const bool changed = view.at_least != state.at_least || view.at_most != state.at_most;
  view.at_least = state.at_least;
  view.at_most = state.at_most;
  if (marking_ && changed) mark(rules_->dependents.of_finding, finding.at());
  look_for_clashes(position, finding);
}

/// A finding clashes if another of one of its lists is present with it.
void Evaluator::look_for_clashes(std::uint32_t position, GroundFinding finding) {
  const auto [begin, end] = rules_->at_most_one_of.range(finding.at());
  if (begin == end) return;
  const auto present = [&](GroundFinding f) { return views_[f.at()].at_least >= 1; };
  for (const auto* list = begin; list != end; ++list) {
    for (const GroundFinding member : rules_->at_most_one[*list].findings) {
      const auto [own_begin, own_end] = rules_->at_most_one_of.range(member.at());
      const bool clashes =
          present(member) && std::any_of(own_begin, own_end, [&](auto own) {
            return std::ranges::count_if(rules_->at_most_one[own].findings, present) > 1;
          });
      if (views_[member.at()].clashes == clashes) continue;
      views_[member.at()].clashes = clashes;
      if (!marking_) continue;
      // Who sees its own value only may stand before this step, and does not hang on this.
      const auto [first, last] = rules_->dependents.of_finding.range(member.at());
      for (const auto* consumer = first; consumer != last; ++consumer) {
        if (*consumer > position) mark_step(*consumer);
      }
    }
  }
}

// --- distrusts --------------------------------------------------------------------------------

void Evaluator::run_distrust(std::uint32_t distrust) {
  const auto& ground = rules_->distrusts[distrust];
  const bool by_snapshot = rules_->rules->distrusts[ground.declaration].asked_per_snapshot;
  const Truth applies = conditions_.holds(ground.when);
  const bool changed = distrusts_[distrust] != applies;
  const auto snapshots = static_cast<std::uint32_t>(facts_.snapshots.size());
  bool readings_changed = false;
  for (std::uint32_t snapshot = 0; snapshot < snapshots && !ground.readings.empty(); ++snapshot) {
    Truth& aside = set_aside_[distrust * snapshots + snapshot];
    const Truth then = by_snapshot ? conditions_.holds_at(ground.when, snapshot) : applies;
    readings_changed = readings_changed || aside != then;
    aside = then;
    anything_aside_ = anything_aside_ || then == Truth::yes;
  }
  anything_aside_ = anything_aside_ || applies == Truth::yes;
  distrusts_[distrust] = applies;
  if (!marking_) return;
  if (readings_changed) mark_readings_of(distrust);
  if (!changed) return;
  for (const GroundFinding finding : ground.findings) {
    mark_step(rules_->dependents.step_of_finding[finding.at()]);
  }
  for (const GroundDetail detail : ground.details) {
    const auto [begin, end] = rules_->dependents.values_of_detail.range(detail.at());
    std::for_each(begin, end, [&](std::uint32_t value) { conditions_.forget(value); });
    mark(rules_->dependents.of_detail, detail.at());
  }
}

void Evaluator::mark_readings_of(std::uint32_t distrust) {
  for (const GroundReading reading : rules_->distrusts[distrust].readings) {
    const auto [begin, end] = rules_->dependents.values_of_reading.range(reading.at());
    std::for_each(begin, end, [&](std::uint32_t value) { conditions_.forget(value); });
    mark(rules_->dependents.of_reading, reading.at());
  }
}

// --- one changed fact -------------------------------------------------------------------------

void Evaluator::mark(const grounding::Lists& lists, std::size_t index) {
  const auto [begin, end] = lists.range(index);
  for (const auto* consumer = begin; consumer != end; ++consumer) mark_step(*consumer);
}

const Evaluation& Evaluator::run_marked() {
  const auto steps = static_cast<std::uint32_t>(rules_->order.size());
  for (std::uint32_t at = 0; at < dirty_.size(); ++at) {
    if (!dirty_[at]) continue;
    dirty_[at] = false;
    if (at < steps) {
      run_step(at);
    } else {
      run_line(at - steps);
    }
  }
  finish();
  return evaluation_;
}

const Evaluation& Evaluator::change_answer(GroundFinding finding, const Answer& answer) {
  facts_.answers[finding.at()] = answer;
  mark_step(rules_->dependents.step_of_finding[finding.at()]);
  return run_marked();
}

const Evaluation& Evaluator::change_detail(GroundDetail detail, const DetailFact& fact) {
  facts_.details[detail.at()] = fact;
  const auto [begin, end] = rules_->dependents.values_of_detail.range(detail.at());
  std::for_each(begin, end, [&](std::uint32_t value) { conditions_.forget(value); });
  mark(rules_->dependents.of_detail, detail.at());
  return run_marked();
}

const Evaluation& Evaluator::change_reading(GroundReading reading, std::uint32_t snapshot,
                                            const ReadingFact& fact) {
  facts_.readings[reading.at() * facts_.snapshots.size() + snapshot] = fact;
  const auto [begin, end] = rules_->dependents.values_of_reading.range(reading.at());
  std::for_each(begin, end, [&](std::uint32_t value) { conditions_.forget(value); });
  mark(rules_->dependents.of_reading, reading.at());
  return run_marked();
}

Evaluation evaluate(std::shared_ptr<const GroundRules> rules, const JobFacts& facts) {
  return Evaluator(std::move(rules)).evaluate(facts);
}

}  // namespace slipcase::evaluation
