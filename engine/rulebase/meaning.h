// Warnings about rules that resolve but may not mean what they seem to. A warning that is wrong
// costs the trust in all others, so each keeps silent when in doubt.
#pragma once

#include "rulebase/rulebase.h"
#include "slipcase/diagnostic.h"

namespace slipcase::rulebase {

/// Counts that look as if other cars had been counted.
void warn_of_counts(const Rulebase& rules, Diagnostics& diagnostics);
/// One thing that counts several times: many members, one reading, a count and a multiplier.
void warn_of_double_weight(const Rulebase& rules, Diagnostics& diagnostics);
/// What nothing leads to, leads nowhere or nobody needs.
void warn_of_loose_ends(const Rulebase& rules, Diagnostics& diagnostics);
/// Causes without a repair, or that no check tells apart.
void warn_of_causes_without_steps(const Rulebase& rules, Diagnostics& diagnostics);
/// Conditions that can never or always hold.
void warn_of_constant_conditions(const Rulebase& rules, Diagnostics& diagnostics);
/// Selections without a member.
void warn_of_empty_selections(const Rulebase& rules, Diagnostics& diagnostics);
/// Causes that no trial names, in files that have trials.
void warn_of_untried_causes(const Rulebase& rules, Diagnostics& diagnostics);

/// Calls `visit(header, condition)` for every condition of the rule base. A line that was revised
/// for one member counts once. A distrust's header has no scope.
template <class Visit>
void for_each_rule_condition(const Rulebase& rules, const Visit& visit) {
  for (const Finding& finding : rules.findings) {
    if (finding.when) visit(finding.header, **finding.when);
    for (const GradeLine& grade : finding.grades) {
      if (grade.when) visit(finding.header, **grade.when);
    }
  }
  for (const Cause& cause : rules.causes) {
    const Condition* last = nullptr;
    const auto once = [&](const ConditionPtr& when) {
      if (when.get() != last) visit(cause.header, *when);
      last = when.get();
    };
    for (const Becomes& line : cause.becomes) once(line.when);
    for (const Restriction& line : cause.restrictions) once(line.when);
  }
  for (const Distrust& distrust : rules.distrusts) visit(distrust.header, *distrust.when);
}

}  // namespace slipcase::rulebase
