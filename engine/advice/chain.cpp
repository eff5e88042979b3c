#include "advice/chain.h"

#include <cmath>
#include <map>
#include <span>

#include "advice/paths.h"

namespace slipcase::advice {

namespace {

// Odds move from one finding to the next by exactly its factor. Where the cause was settled before
// (odds 0 or infinite) nothing can move it any more.
double log_factor(Probability before, Probability after) {
  const bool settled = before.value() == 0.0 || before.complement() == 0.0;
  return settled ? 0.0 : after.log_odds() - before.log_odds();
}

struct Step {
  std::vector<network::Observation> findings;
  bool complaint_stayed = false;
};

/// The chance of the cause before the first step and after each: up to the step that the complaint
/// stayed as if nothing had been repaired, from there on of its being there after the repairs.
Answer<std::vector<Probability>> chances_along(JobModel& job, network::HiddenId cause,
                                               const std::vector<Step>& steps) {
  std::vector<network::Evidence> known(1);
  std::size_t before_repairs = 1;
  for (const Step& step : steps) {
    known.push_back(known.back());
    auto& findings = known.back().findings;
    findings.insert(findings.end(), step.findings.begin(), step.findings.end());
    known.back().complaint_stayed |= step.complaint_stayed;
    if (!known.back().complaint_stayed) ++before_repairs;
  }
  const std::span<const network::Evidence> all(known);
  std::vector<network::Outcome> outcomes =
      job.solver_before_repairs().solve_batch(all.first(before_repairs));
  for (network::Outcome& outcome : job.solver().solve_batch(all.subspan(before_repairs)))
    outcomes.push_back(std::move(outcome));
  std::vector<Probability> chances;
  for (std::size_t i = 0; i < outcomes.size(); ++i) {
    const auto* posterior = std::get_if<network::Posterior>(&outcomes[i]);
    if (posterior == nullptr) return job.explain_failure(outcomes[i], known[i]);
    chances.push_back(posterior->hidden.at(cause.at()));
  }
  return chances;
}

/// What the rules link to the cause, the absent members of one finding as one step; then that the
/// complaint stayed, which may be about any cause.
std::vector<Step> linked_steps(const JobModel& job, network::HiddenId cause) {
  const PathFinder paths(job.rules(), cause);
  std::vector<Step> steps;
  std::map<std::uint32_t, std::size_t> absent_members;  // declaration to step
  for (const network::Observation& seen : job.observations()) {
    const GroundFinding finding{seen.finding.index};
    if (!paths.to(finding)) continue;
    const bool absent = seen.at_most == 0;
    const std::uint32_t declaration = job.ground().findings.origins.at(finding.at()).declaration;
    const auto known = absent_members.find(declaration);
    if (absent && known != absent_members.end()) {
      steps[known->second].findings.push_back(seen);
      continue;
    }
    if (absent) absent_members.emplace(declaration, steps.size());
    steps.push_back({{seen}});
  }
  if (job.evidence().complaint_stayed) steps.push_back({{}, true});
  return steps;
}

/// As linked_steps(), finding by finding, and behind them what the rules do not link to the cause:
/// so a finding has one factor, whether the view is the short one or the whole.
std::vector<Step> single_steps(const JobModel& job, network::HiddenId cause) {
  std::vector<Step> steps;
  std::vector<bool> taken(job.ground().findings.size(), false);
  for (const Step& step : linked_steps(job, cause)) {
    if (step.complaint_stayed) steps.push_back(step);
    for (const network::Observation& seen : step.findings) {
      steps.push_back({{seen}});
      taken[seen.finding.at()] = true;
    }
  }
  for (const network::Observation& seen : job.observations()) {
    if (!taken[seen.finding.at()]) steps.push_back({{seen}});
  }
  return steps;
}

network::Observation first_of(const Step& step) {
  return step.complaint_stayed ? network::Observation{} : step.findings.front();
}

}  // namespace

Answer<Chain> chain_for(JobModel& job, network::HiddenId cause) {
  const std::vector<Step> steps = single_steps(job, cause);
  const Answer<std::vector<Probability>> answer = chances_along(job, cause, steps);
  if (const auto* failure = std::get_if<Failure>(&answer)) return *failure;
  const auto& chances = std::get<std::vector<Probability>>(answer);
  Chain chain{chances.front(), chances.back(), {}};
  for (std::size_t i = 0; i < steps.size(); ++i) {
    chain.links.push_back(
        {first_of(steps[i]), steps[i].complaint_stayed, log_factor(chances[i], chances[i + 1])});
  }
  return chain;
}

Answer<ShortChain> short_chain_for(JobModel& job, network::HiddenId cause,
                                   const network::Posterior& now) {
  const std::vector<Step> steps = linked_steps(job, cause);
  const Answer<std::vector<Probability>> answer = chances_along(job, cause, steps);
  if (const auto* failure = std::get_if<Failure>(&answer)) return *failure;
  const auto& chances = std::get<std::vector<Probability>>(answer);
  ShortChain chain;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const std::size_t more = steps[i].complaint_stayed ? 0 : steps[i].findings.size() - 1;
    chain.linked.push_back({first_of(steps[i]), steps[i].complaint_stayed, more,
                            log_factor(chances[i], chances[i + 1])});
  }
  chain.log_factor_of_rest = log_factor(chances.back(), now.hidden.at(cause.at()));
  return chain;
}

}  // namespace slipcase::advice
