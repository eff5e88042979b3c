// Evaluator: what follows for the whole job once every step is done.
#include <algorithm>

#include "evaluation/evaluator.h"

namespace slipcase::evaluation {

void Evaluator::finish() {
  evaluation_.findings = states_;
  evaluation_.contradictions.clear();
  evaluation_.clashes.clear();
  for (std::uint32_t i = 0; i < states_.size(); ++i) {
    if (!contradicts_[i]) continue;
    evaluation_.contradictions.push_back(
        {GroundFinding{i}, facts_.answers[i].place.value_or(Place{})});
  }
  const auto snapshots = static_cast<std::uint32_t>(facts_.snapshots.size());
  for (std::uint32_t d = 0; d < distrusts_.size(); ++d) {
    DistrustState& state = evaluation_.distrusts[d];
    state.applies = distrusts_[d];
    state.snapshots.clear();
    for (std::uint32_t s = snapshots; s-- > 0;) {
      if (set_aside_[d * snapshots + s] == Truth::yes) state.snapshots.push_back(s);
    }
  }
  leave_out();
  list_undecided();
  judge_causes();
}

/// One present: the others say nothing new. Two present: neither is to be believed.
void Evaluator::leave_out() {
  for (std::uint32_t list = 0; list < rules_->at_most_one.size(); ++list) {
    const auto& findings = rules_->at_most_one[list].findings;
    std::vector<GroundFinding> present;
    for (const GroundFinding finding : findings) {
      if (states_[finding.at()].state == State::present) present.push_back(finding);
    }
    if (present.empty()) continue;
    for (const GroundFinding finding : findings) {
      FindingState& state = evaluation_.findings[finding.at()];
      const bool the_one = present.size() == 1 && present.front() == finding;
      if (!the_one && state.state != State::set_aside) state.state = State::left_out;
    }
    if (present.size() > 1) evaluation_.clashes.push_back({list, std::move(present)});
  }
}

void Evaluator::list_undecided() {
  auto& list = evaluation_.undecided;
  list.clear();
  const std::size_t snapshots = facts_.snapshots.size();
  for (std::uint32_t d = 0; d < distrusts_.size(); ++d) {
    const auto* const first = set_aside_.data() + d * snapshots;
    const bool open_then = std::find(first, first + snapshots, Truth::unknown) != first + snapshots;
    if (distrusts_[d] == Truth::unknown || open_then) {
      list.push_back({Undecided::Kind::distrust, d});
    }
  }
  for (std::uint32_t i = 0; i < evaluation_.becomes.size(); ++i) {
    if (evaluation_.becomes[i] == Truth::unknown) list.push_back({Undecided::Kind::becomes, i});
  }
  for (std::uint32_t i = 0; i < evaluation_.restrictions.size(); ++i) {
    if (evaluation_.restrictions[i] != Truth::unknown) continue;
    list.push_back({Undecided::Kind::restriction, i});
  }
}

void Evaluator::judge_causes() {
  const std::size_t causes = rules_->causes.size();
  evaluation_.possible.assign(causes, true);
  for (std::uint32_t c = 0; c < causes; ++c) {
    const auto& header = rules_->declaration(grounding::GroundCause{c}).header;
    evaluation_.possible[c] = header.in_use(rules_->causes.origins[c].member);
  }
  evaluation_.judged.assign(causes, true);
  evaluation_.not_judged_by.assign(causes, std::nullopt);
  for (std::size_t i = 0; i < rules_->restrictions.size(); ++i) {
    const auto& restriction = rules_->restrictions[i];
    const Truth rules_out = restriction.never ? Truth::yes : Truth::no;
    if (evaluation_.restrictions[i] == rules_out) {
      evaluation_.possible[restriction.cause.at()] = false;
    }
  }
  for (std::uint32_t d = 0; d < distrusts_.size(); ++d) {
    if (distrusts_[d] != Truth::yes) continue;
    for (std::size_t cause = 0; cause < causes; ++cause) {
      if (!rules_->distrusts[d].not_judged[cause] || !evaluation_.judged[cause]) continue;
      evaluation_.judged[cause] = false;
      evaluation_.not_judged_by[cause] = d;
    }
  }
}

}  // namespace slipcase::evaluation
