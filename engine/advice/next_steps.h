// The answer to "what now": checks by worth, and the plan of repairs behind them.
#pragma once

#include "advice/job_model.h"
#include "advice/rank_job.h"
#include "evaluation/job_facts.h"
#include "slipcase/next.h"

namespace slipcase::advice {

[[nodiscard]] NextResult next_steps(JobModel& job, const evaluation::JobFacts& facts,
                                    const JobTitle& title, const ShopCosts& costs,
                                    const NextOptions& options);

}  // namespace slipcase::advice
