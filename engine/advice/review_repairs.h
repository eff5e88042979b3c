// A second opinion on repairs somebody intends.
#pragma once

#include <string>
#include <vector>

#include "advice/job_model.h"
#include "advice/rank_job.h"
#include "evaluation/job_facts.h"
#include "slipcase/review.h"

namespace slipcase::advice {

[[nodiscard]] ReviewResult review_repairs(JobModel& job, const evaluation::JobFacts& facts,
                                          const JobTitle& title, const ShopCosts& costs,
                                          const std::vector<std::string>& repairs,
                                          const NextOptions& options);

}  // namespace slipcase::advice
