#include "advice/chain.h"

#include <cmath>

namespace slipcase::advice {

namespace {

// Odds move from one finding to the next by exactly its factor. Where the cause was settled before
// (odds 0 or infinite) nothing can move it any more.
double log_factor(Probability before, Probability after) {
  const bool settled = before.value() == 0.0 || before.complement() == 0.0;
  return settled ? 0.0 : after.log_odds() - before.log_odds();
}

}  // namespace

Answer<Chain> chain_for(JobModel& job, network::HiddenId cause) {
  const std::vector<network::Observation>& all = job.observations();
  std::vector<network::Evidence> known;
  for (std::size_t count = 0; count <= all.size(); ++count) {
    const auto end = all.begin() + static_cast<std::ptrdiff_t>(count);
    known.push_back({{all.begin(), end}, {}});
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
      chain.links.push_back({all[count - 1], log_factor(chain.after, chance)});
    }
    chain.after = chance;
  }
  return chain;
}

}  // namespace slipcase::advice
