// The answer to "what now": checks by worth, and the plan of repairs behind them.
#pragma once

#include "advice/complaint.h"
#include "advice/job_model.h"
#include "advice/rank_job.h"
#include "evaluation/job_facts.h"
#include "slipcase/next.h"

namespace slipcase::advice {

/// For a job whose complaint went with this repair.
[[nodiscard]] ComplaintGone describe_end(const JobModel& job, const Complaint& complaint,
                                         const JobTitle& title, grounding::GroundRepair repair);

[[nodiscard]] NextResult next_steps(JobModel& job, const evaluation::JobFacts& facts,
                                    const JobTitle& title, const ShopCosts& costs,
                                    const NextOptions& options);

}  // namespace slipcase::advice
