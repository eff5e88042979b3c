// Trouble codes in conditions.
#pragma once

#include "rulebase/context.h"
#include "rulebase/targets.h"

namespace slipcase::rulebase {

[[nodiscard]] ConditionPtr resolve_code_test(Context& context, const language::CodeTest& node,
                                             const Place& place, const Variables& variables);

/// A code as written; reports what is none.
[[nodiscard]] std::optional<units::TroubleCode> resolve_code(Context& context,
                                                             const language::Word& word);

}  // namespace slipcase::rulebase
