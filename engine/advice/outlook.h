// What an answer that is not there yet would do to every chance, and how much it would tell.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "advice/job_model.h"

namespace slipcase::advice {

/// Nothing is known of the finding.
[[nodiscard]] bool is_open(const JobModel& job, GroundFinding finding);

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

/// C. E. Shannon, "A Mathematical Theory of Communication", 1948.
[[nodiscard]] double entropy_bits(Probability p);

/// The expected information of the answer about each of these nodes by itself, summed, in bits.
[[nodiscard]] double information(std::span<const network::HiddenId> about,
                                 const network::Posterior& now, const Outlook& ahead);

}  // namespace slipcase::advice
