// Which questions are worth planning with: those that tell most, for their cost, about what the
// chosen repairs would cure. Of a check that answers many findings the few that tell most are
// weighed.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "advice/job_oracle.h"
#include "advice/workshop.h"

namespace slipcase::advice {

/// A check of the workshop or a question nobody has asked yet.
struct OpenCheck {
  std::optional<GroundCheck> check;  // none: a question
  decision::Work work;
  OpenQuestion weighed;
  std::vector<grounding::GroundReading> still_missing;  // the rest was read on this visit
  std::size_t more_findings = 0;                        // that it answers too
  double information = 0;                               // bits about what the repairs would cure
};

/// Those that tell most for their cost, at most `how_many`; `coming` are done whatever is planned.
[[nodiscard]] std::vector<OpenCheck> promising_checks(JobModel& job, const Workshop& shop,
                                                      const std::vector<RepairStep>& repairs,
                                                      const std::vector<GroundCheck>& coming,
                                                      const network::Posterior& now,
                                                      std::size_t how_many);

}  // namespace slipcase::advice
