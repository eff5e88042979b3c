// What is not known and would tell most about the causes.
#pragma once

#include <vector>

#include "advice/job_model.h"
#include "advice/stories.h"
#include "advice/ways.h"

namespace slipcase::advice {

/// What to ask or check, at most `how_many` of those that tell most; of these first what tells most
/// for its time. A check or a question stands for everything it answers and is weighed by the one
/// finding that tells most: the sum of H(cause) - E[H(cause | answer)] in bits (C. E. Shannon, "A
/// Mathematical Theory of Communication", 1948) over the judged causes that the facts speak for;
/// one that stands where it stood before (a worn mount beside a burnt clutch) is not what the job
/// is about. The rest that it answers can only add to that.
[[nodiscard]] std::vector<MissingFinding> missing_findings(JobModel& job, const Ways& ways,
                                                           const Stories& stories,
                                                           const network::Posterior& before,
                                                           const network::Posterior& now,
                                                           std::size_t how_many);

}  // namespace slipcase::advice
