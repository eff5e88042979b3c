// Checks, repairs and answers as people read them.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "advice/workshop.h"
#include "slipcase/next.h"

namespace slipcase::advice {

[[nodiscard]] StepReport report_step(const JobModel& job, GroundCheck check);
[[nodiscard]] StepReport report_step(const JobModel& job, GroundRepair repair);
[[nodiscard]] StepReport report_question(const JobModel& job, GroundFinding finding);

/// What of `only after` is not done yet.
[[nodiscard]] std::vector<StepReport> report_before(const JobModel& job, const Workshop& shop,
                                                    GroundRepair repair);

/// What must follow a repair (`follow with`).
[[nodiscard]] std::vector<StepReport> report_after(const JobModel& job, GroundRepair repair);

/// "yes", "no", "high": one for each.
/// Those that the list does not have yet.
void add_new(std::vector<StepReport> steps, std::vector<StepReport>& list);

[[nodiscard]] std::vector<std::string> answer_texts(const JobModel& job,
                                                    std::span<const network::Observation> answers);

/// The repairs among them, one for each distrust.
[[nodiscard]] std::vector<GroundRepair> first_repairs(const JobModel& job, const Workshop& shop);
/// The checks among them.
[[nodiscard]] std::vector<GroundCheck> first_checks(const JobModel& job, const Workshop& shop);

/// Per ground cause: it may be judged once these repairs are done.
[[nodiscard]] std::vector<bool> judged_after(const JobModel& job,
                                             const std::vector<GroundRepair>& repairs);

/// "fill pressure of K2": a reading as people say it.
[[nodiscard]] std::string reading_text(const JobModel& job, grounding::GroundReading reading);

/// What would end the distrusts that hold something back, with their reasons.
[[nodiscard]] std::vector<FirstThing> first_things(const JobModel& job, const Workshop& shop);

}  // namespace slipcase::advice
