// The evidence about one cause as a chain of factors on its odds.
#pragma once

#include <vector>

#include "advice/job_model.h"

namespace slipcase::advice {

struct ChainLink {
  network::Observation observation;
  bool complaint_stayed = false;  // no finding, but that repairs did not help
  double log_factor = 0.0;        // ln P(f | cause, earlier) - ln P(f | no cause, earlier)
};

struct Chain {
  Probability before;  // of the cause, with no finding known
  Probability after;   // with all of them
  /// First what the rules link to the cause, then all else, both in the order of the rules.
  std::vector<ChainLink> links;
};

/// ln odds(before) + sum of log_factor = ln odds(after); every step is one exact posterior.
[[nodiscard]] Answer<Chain> chain_for(JobModel& job, network::HiddenId cause);

/// One step of the quick view: a finding, or all members of one finding that are not there.
struct ShortLink {
  network::Observation observation;  // of the first member
  bool complaint_stayed = false;     // no finding, but that repairs did not help
  std::size_t more = 0;              // further members, absent like the first
  double log_factor = 0.0;
};

/// The quick view: only the findings that the rules link to the cause, taken first, in the order of
/// the rules; all others, which speak through other causes, follow as one step.
struct ShortChain {
  std::vector<ShortLink> linked;
  double log_factor_of_rest = 0.0;
};
[[nodiscard]] Answer<ShortChain> short_chain_for(JobModel& job, network::HiddenId cause,
                                                 const network::Posterior& now);

}  // namespace slipcase::advice
