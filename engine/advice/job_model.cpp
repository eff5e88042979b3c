#include "advice/job_model.h"

#include "network/clash.h"

namespace slipcase::advice {

namespace {

using evaluation::State;

slipcase::FindingState published(State state) {
  switch (state) {
    case State::absent:
      return FindingState::absent;
    case State::present:
      return FindingState::present;
    case State::unknown:
      return FindingState::unknown;
    case State::left_out:
      return FindingState::left_out;
    case State::set_aside:
      return FindingState::set_aside;
  }
  return FindingState::unknown;
}

}  // namespace

// A job asks some dozens of questions of different shapes, each with an order of its own, and most
// of them little different from what is known.
JobModel::JobModel(const model::RuleNetwork& rules, const evaluation::Evaluation& states,
                   std::size_t memory_bytes, TriedInVain tried)
    : rules_(rules),
      states_(states),
      memory_bytes_(memory_bytes),
      tried_(std::move(tried)),
      network_(model::network_for(rules, states)),
      solver_(network_, tried_.failed, options()),
      observations_(model::observations(rules, states)) {
  solver_.start_orders_from(evidence());
}

network::SolverOptions JobModel::options() const {
  return {.memory_bytes = memory_bytes_, .search_effort = 1.0};
}

network::Solver& JobModel::solver_before_repairs() {
  if (tried_.failed.empty()) return solver_;
  if (!solver_before_repairs_) {
    solver_before_repairs_.emplace(network_, options());
    solver_before_repairs_->start_orders_from(evidence_before_repairs());
  }
  return *solver_before_repairs_;
}

Answer<network::Posterior> JobModel::solve(const network::Evidence& evidence) {
  network::Outcome outcome = solver_.solve(evidence);
  if (auto* posterior = std::get_if<network::Posterior>(&outcome)) return std::move(*posterior);
  return explain_failure(outcome, evidence);
}

Answer<network::Posterior> JobModel::prior() {
  network::Outcome outcome = solver_before_repairs().solve({});
  if (auto* posterior = std::get_if<network::Posterior>(&outcome)) return std::move(*posterior);
  return explain_failure(outcome, {});
}

bool JobModel::is_refuted_by_repairs(network::Evidence evidence) {
  if (!evidence.complaint_stayed) return false;
  evidence.complaint_stayed = false;
  return !std::holds_alternative<network::Impossible>(solver_.log_evidence(evidence));
}

Failure JobModel::explain_failure(const network::Outcome& outcome,
                                  const network::Evidence& evidence) {
  if (const auto* wide = std::get_if<network::TooWide>(&outcome)) {
    return TooWide{wide->width, wide->bytes_needed};
  }
  ImpossibleEvidence impossible;
  for (const network::FindingId id : network::clashing_findings(solver_, evidence)) {
    const FindingReport finding = report(*this, GroundFinding{id.index});
    impossible.clash.push_back({finding.id, finding.says, finding.state});
  }
  if (is_refuted_by_repairs(evidence))
    impossible.clash.push_back({complaint_stayed, tried_.says(ground()), FindingState::present});
  return impossible;
}

std::string grade_text(const rulebase::Finding& declaration, std::uint32_t at_least,
                       std::uint32_t at_most) {
  if (declaration.grades.empty() || at_least == 0) return {};
  const std::string& name = declaration.grades.at(at_least - 1).name;
  return at_most > at_least ? name + " or more" : name;
}

FindingReport report(const JobModel& job, GroundFinding finding) {
  const evaluation::FindingState& state = job.states().findings.at(finding.at());
  FindingReport result;
  result.id = job.ground().name_of(finding);
  result.says = job.ground().says(finding);
  result.state = published(state.state);
  result.worked_out = state.basis == evaluation::Basis::worked_out;
  if (result.state == FindingState::present) {
    result.grade = grade_text(job.ground().declaration(finding), state.at_least, state.at_most);
  }
  if (state.distrust) {
    const auto& distrust = job.ground().distrusts.at(*state.distrust);
    result.because = job.ground().rules->distrusts.at(distrust.declaration).because;
  }
  return result;
}

}  // namespace slipcase::advice
