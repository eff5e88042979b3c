// Comparisons of values: both sides must measure the same thing.
#pragma once

#include "rulebase/context.h"
#include "rulebase/targets.h"

namespace slipcase::rulebase {

[[nodiscard]] ConditionPtr resolve_comparison(Context& context, const language::Comparison& node,
                                              const Place& place, const Variables& variables);
[[nodiscard]] ConditionPtr resolve_between(Context& context, const language::Between& node,
                                           const Place& place, const Variables& variables);
[[nodiscard]] ConditionPtr resolve_within(Context& context, const language::Within& node,
                                          const Place& place, const Variables& variables);

}  // namespace slipcase::rulebase
