// A trial's `expect` lines held against what comes out of its job.
#pragma once

#include "advice/job_model.h"
#include "rulebase/rulebase.h"
#include "slipcase/trials.h"

namespace slipcase::advice {

/// `job` is the trial's own.
[[nodiscard]] TrialReport judge_trial(const rulebase::Trial& trial, JobModel& job,
                                      const SourceSet& sources);

/// Name and place, with nothing run yet.
[[nodiscard]] TrialReport report_for(const rulebase::Trial& trial, const SourceSet& sources);

/// The text at a place on one line.
[[nodiscard]] std::string one_line(const SourceSet& sources, const Place& place);

/// What an expectation names, by ground number. Members are always named in a trial.
[[nodiscard]] GroundCause ground_cause(const grounding::GroundRules& ground,
                                       const rulebase::CauseAt& at);
[[nodiscard]] GroundFinding ground_finding(const grounding::GroundRules& ground,
                                           const rulebase::TrialExpectation::State& state);

/// The causes whose chance or place the line is about.
[[nodiscard]] std::vector<rulebase::CauseAt> causes_in(const rulebase::TrialExpectation& line);

}  // namespace slipcase::advice
