// Which repairs and which questions are worth planning with.
//
// Planning is exact for what it is given, and its cost doubles with every repair; so the repairs
// that promise most for their cost are chosen first, and of a check that answers many findings the
// few that tell most about what those repairs would cure.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "advice/complaint.h"
#include "advice/job_oracle.h"
#include "advice/workshop.h"

namespace slipcase::advice {

/// The most promising repairs by chance to end the complaint over cost, at most `how_many`. Repairs
/// that only cure what must not be judged (`judged`: per ground cause) are left out.
[[nodiscard]] std::vector<RepairStep> promising_repairs(JobModel& job, const Workshop& shop,
                                                        const Complaint& complaint,
                                                        const std::vector<network::Cure>& tried,
                                                        const std::vector<bool>& judged,
                                                        const network::Posterior& now,
                                                        std::size_t how_many);

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
