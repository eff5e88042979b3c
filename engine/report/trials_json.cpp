// Trials as JSON.
#include "report/json_parts.h"
#include "slipcase/report.h"

namespace slipcase {

namespace {

using report::dumped;
using report::Json;
using report::list_json;
using report::number;

std::string_view kind_name(RuleLineKind kind) {
  switch (kind) {
    case RuleLineKind::cause:
      return "cause";
    case RuleLineKind::becomes:
      return "becomes";
    case RuleLineKind::exclusion:
      return "exclusion";
    case RuleLineKind::shows:
      return "shows";
    case RuleLineKind::then_causes:
      return "then_causes";
    case RuleLineKind::flags:
      return "flags";
    case RuleLineKind::finding:
      return "finding";
    case RuleLineKind::worked_out:
      return "worked_out";
    case RuleLineKind::at_most_one:
      return "at_most_one";
    case RuleLineKind::distrust:
      return "distrust";
  }
  return "";
}

Json trial_cause_json(const TrialCause& cause) {
  Json json{{"id", cause.id},
            {"says", cause.says},
            {"place", cause.place},
            {"chance", number(cause.chance.value())}};
  if (cause.place == 0) json["because"] = cause.not_judged_because;
  return json;
}

Json trial_json(const TrialReport& trial) {
  Json json{{"name", trial.title},
            {"place", trial.place},
            {"own", !trial.shipped},
            {"passed", trial.passed()}};
  if (!trial.not_run.empty()) json["not_run"] = trial.not_run;
  json["failures"] = list_json(trial.failures, [](const TrialFailure& failure) {
    Json entry{{"expected", failure.expected},
               {"place", failure.place},
               {"causes", list_json(failure.causes, trial_cause_json)}};
    if (!failure.instead.empty()) entry["instead"] = failure.instead;
    return entry;
  });
  json["first"] = list_json(trial.first, trial_cause_json);
  return json;
}

Json coverage_json(const TrialCoverage& coverage) {
  return {{"least_change", coverage.least_change},
          {"kinds", list_json(coverage.kinds,
                              [](const KindCoverage& kind) {
                                return Json{{"kind", kind_name(kind.kind)},
                                            {"lines", kind.lines},
                                            {"depended_on", kind.depended_on}};
                              })},
          {"untried", list_json(coverage.untried, [](const UntriedLine& line) {
             return Json{{"kind", kind_name(line.kind)},
                         {"of", line.of},
                         {"text", line.text},
                         {"place", line.place}};
           })}};
}

}  // namespace

std::string to_json(const TrialsRun& run) {
  Json json{{"passed", run.passed()},
            {"failed", run.trials.size() - run.passed()},
            {"left_out", run.left_out},
            {"causes", run.causes},
            {"causes_expected", run.causes_expected}};
  json["trials"] = list_json(run.trials, trial_json);
  if (run.coverage) json["coverage"] = coverage_json(*run.coverage);
  return dumped(json);
}

}  // namespace slipcase
