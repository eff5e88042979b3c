// What is not known and would tell most about the causes.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "advice/job_model.h"

namespace slipcase::advice {

/// Expected information of every open finding that someone can answer, most first, at most
/// `how_many`. For one finding: the sum of H(cause) - E[H(cause | answer)] in bits (C. E. Shannon,
/// "A Mathematical Theory of Communication", 1948) over the judged causes that the facts speak for;
/// one that stands where it stood before (a worn mount beside a burnt clutch) is not what the job
/// is about. Findings that tell nothing are left out.
[[nodiscard]] std::vector<MissingFinding> missing_findings(JobModel& job,
                                                           const network::Posterior& before,
                                                           const network::Posterior& now,
                                                           std::size_t how_many);

/// Chance of yes, and every hidden node's chance under either answer, for one open finding.
struct Outlook {
  Probability yes;
  std::vector<Probability> if_yes;  // per hidden node
  std::vector<Probability> if_no;
};
/// For each of `findings`; nothing where "no" is impossible or cannot be computed in the memory
/// given.
[[nodiscard]] std::vector<std::optional<Outlook>> outlooks(JobModel& job,
                                                           const network::Posterior& now,
                                                           std::span<const GroundFinding> findings);

}  // namespace slipcase::advice
