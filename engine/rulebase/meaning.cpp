#include "rulebase/meaning.h"

#include "rulebase/resolve.h"

namespace slipcase::rulebase {

void check_meaning(const Rulebase& rulebase, Diagnostics& diagnostics) {
  warn_of_counts(rulebase, diagnostics);
  warn_of_double_weight(rulebase, diagnostics);
  warn_of_loose_ends(rulebase, diagnostics);
  warn_of_causes_without_steps(rulebase, diagnostics);
  warn_of_constant_conditions(rulebase, diagnostics);
  warn_of_empty_selections(rulebase, diagnostics);
  warn_of_untried_causes(rulebase, diagnostics);
}

}  // namespace slipcase::rulebase
