// Why one cause stands where it stands, from the network, the rules and the card.
#pragma once

#include <string_view>

#include "advice/job_model.h"
#include "advice/rank_job.h"
#include "evaluation/evaluator.h"
#include "slipcase/reasons.h"

namespace slipcase::advice {

/// `evaluator` holds the job.
[[nodiscard]] ReasonsResult explain_cause(JobModel& job, evaluation::Evaluator& evaluator,
                                          const JobTitle& title, std::string_view cause,
                                          std::string_view against, std::size_t most_tipping,
                                          const SourceSet& sources);

}  // namespace slipcase::advice
