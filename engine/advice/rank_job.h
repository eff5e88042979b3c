// From states and network to the ranking people see.
#pragma once

#include <string>
#include <vector>

#include "advice/job_model.h"
#include "evaluation/evaluator.h"
#include "slipcase/ranking.h"
#include "slipcase/source.h"

namespace slipcase::advice {

/// What the card says of itself, beside its facts.
struct JobTitle {
  std::string job;
  std::string unit;
  std::string complaint;
  std::vector<GroundFinding> complaint_findings;
};

/// `evaluator` holds the job.
[[nodiscard]] RankResult rank_job(JobModel& job, evaluation::Evaluator& evaluator,
                                  const JobTitle& title, const SourceSet& sources,
                                  const RankOptions& options);

/// Ground causes by chance, largest first; equal chances by name, so that the order never depends
/// on how rules are arranged.
[[nodiscard]] std::vector<GroundCause> by_chance(const JobModel& job,
                                                 const network::Posterior& posterior);

/// The first judged cause of that order.
[[nodiscard]] std::optional<GroundCause> first_judged(const JobModel& job,
                                                      const network::Posterior& posterior);

}  // namespace slipcase::advice
