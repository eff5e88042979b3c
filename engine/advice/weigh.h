// How much each finding carries for one cause, all others kept: the quick view beside the full
// chain.
#pragma once

#include <vector>

#include "advice/job_model.h"

namespace slipcase::advice {

struct WeighedFinding {
  GroundFinding finding;
  /// ln odds of the cause with all findings, less ln odds without this one.
  double log_weight = 0.0;
};

/// The `how_many` findings that carry most, strongest first. Exact: P(rest | cause) / P(all |
/// cause) is E[1 / weight of the finding] given cause and findings, which for a finding with one
/// parent follows from that parent's chance alone, and for the others is solved for. Absent
/// findings with several parents are many and mostly weak: the strongest by an estimate (parents
/// taken as independent) are solved for, at least `how_many` of them, the others left out.
[[nodiscard]] std::vector<WeighedFinding> weigh_findings(JobModel& job,
                                                         const network::Posterior& now,
                                                         GroundCause cause, std::size_t how_many);

}  // namespace slipcase::advice
