// A cheap guess of what a finding would tell, to choose those that are weighed exactly.
#pragma once

#include <vector>

#include "advice/job_model.h"

namespace slipcase::advice {

/// The judged causes that something speaks for.
[[nodiscard]] std::vector<GroundCause> causes_in_question(const JobModel& job,
                                                          const network::Posterior& before,
                                                          const network::Posterior& now);

class InformationGuess {
 public:
  InformationGuess(const JobModel& job, const network::Posterior& now,
                   const std::vector<GroundCause>& causes);

  /// In bits, about what makes the finding and can come of one of the causes: each such parent by
  /// itself, the parents taken as independent.
  [[nodiscard]] double about(GroundFinding finding) const;

 private:
  const JobModel& job_;
  std::vector<bool> touched_;         // per hidden node: one of the causes, or what they can make
  std::vector<Probability> chances_;  // per hidden node
};

}  // namespace slipcase::advice
