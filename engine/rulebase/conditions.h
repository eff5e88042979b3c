// Conditions with every name looked up.
#pragma once

#include "rulebase/context.h"
#include "rulebase/targets.h"

namespace slipcase::rulebase {

/// Null if anything in it was reported; the whole condition is looked at in any case.
[[nodiscard]] ConditionPtr resolve_condition(Context& context, const language::Condition& condition,
                                             const Variables& variables);

}  // namespace slipcase::rulebase
