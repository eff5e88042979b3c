// The evidence about one cause as a chain of factors on its odds.
#pragma once

#include <vector>

#include "advice/job_model.h"

namespace slipcase::advice {

struct ChainLink {
  network::Observation observation;
  double log_factor = 0.0;  // ln P(f | cause, earlier) - ln P(f | no cause, earlier)
};

struct Chain {
  Probability before;            // of the cause, with no finding known
  Probability after;             // with all of them
  std::vector<ChainLink> links;  // in the order in which the rules declare the findings
};

/// ln odds(before) + sum of log_factor = ln odds(after); every step is one exact posterior.
[[nodiscard]] Answer<Chain> chain_for(JobModel& job, network::HiddenId cause);

/// The quick view: only the findings that the rules link to the cause, taken first and one by one;
/// all others, which speak through other causes, follow as one step.
struct ShortChain {
  std::vector<ChainLink> linked;
  double log_factor_of_rest = 0.0;
};
[[nodiscard]] Answer<ShortChain> short_chain_for(JobModel& job, network::HiddenId cause,
                                                 const network::Posterior& now);

}  // namespace slipcase::advice
