// What an evaluation has to tell beside states: evidence set aside, what contradicts
// itself, and the safety texts that go with the steps named.
#pragma once

#include <vector>

#include "advice/job_model.h"
#include "evaluation/evaluator.h"
#include "slipcase/source.h"

namespace slipcase::advice {

[[nodiscard]] std::vector<DistrustReport> distrust_reports(const JobModel& job,
                                                           evaluation::Evaluator& evaluator,
                                                           const SourceSet& sources);
[[nodiscard]] std::vector<std::string> contradictions(const JobModel& job,
                                                      const SourceSet& sources);

/// Cautions of the checks that would answer what is missing and matters, of what ends a distrust,
/// and of every check and repair in them; each once, in rule order.
/// Of what is there, whatever is done next.
[[nodiscard]] std::vector<CautionReport> cautions_of_findings(const JobModel& job);

[[nodiscard]] std::vector<CautionReport> cautions_for(const JobModel& job,
                                                      const std::vector<MissingFinding>& missing,
                                                      const std::vector<DistrustReport>& distrusts);

}  // namespace slipcase::advice
