#include "advice/chain.h"

#include <cmath>

#include "advice/paths.h"

namespace slipcase::advice {

namespace {

// Odds move from one finding to the next by exactly its factor. Where the cause was settled before
// (odds 0 or infinite) nothing can move it any more.
double log_factor(Probability before, Probability after) {
  const bool settled = before.value() == 0.0 || before.complement() == 0.0;
  return settled ? 0.0 : after.log_odds() - before.log_odds();
}

/// The chain over these findings and no others.
Answer<Chain> chain_over(JobModel& job, network::HiddenId cause,
                         const std::vector<network::Observation>& order) {
  std::vector<network::Evidence> known;
  for (std::size_t count = 0; count <= order.size(); ++count) {
    const auto end = order.begin() + static_cast<std::ptrdiff_t>(count);
    known.push_back({{order.begin(), end}, {}});
  }
  const std::vector<network::Outcome> outcomes = job.solver().solve_batch(known);
  Chain chain;
  for (std::size_t count = 0; count < outcomes.size(); ++count) {
    const auto* posterior = std::get_if<network::Posterior>(&outcomes[count]);
    if (posterior == nullptr) return job.explain_failure(outcomes[count], known[count]);
    const Probability chance = posterior->hidden.at(cause.at());
    if (count == 0) {
      chain.before = chance;
    } else {
      chain.links.push_back({order[count - 1], log_factor(chain.after, chance)});
    }
    chain.after = chance;
  }
  return chain;
}

}  // namespace

Answer<Chain> chain_for(JobModel& job, network::HiddenId cause) {
  return chain_over(job, cause, job.observations());
}

Answer<ShortChain> short_chain_for(JobModel& job, network::HiddenId cause,
                                   const network::Posterior& now) {
  const PathFinder paths(job.rules(), cause);
  std::vector<network::Observation> linked;
  for (const network::Observation& seen : job.observations()) {
    if (paths.to(GroundFinding{seen.finding.index})) linked.push_back(seen);
  }
  Answer<Chain> chain = chain_over(job, cause, linked);
  if (auto* failure = std::get_if<Failure>(&chain)) return std::move(*failure);
  auto& links = std::get<Chain>(chain);
  const double rest = log_factor(links.after, now.hidden.at(cause.at()));
  return ShortChain{std::move(links.links), rest};
}

}  // namespace slipcase::advice
