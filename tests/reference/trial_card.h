// The facts of a trial as the text of a job card.
#pragma once

#include <string>

#include "rulebase/rulebase.h"

namespace reference {

[[nodiscard]] std::string card_of(const slipcase::rulebase::Trial& trial,
                                  const slipcase::rulebase::Rulebase& rules);

/// "lining_worn of K3"
[[nodiscard]] std::string name_of(const slipcase::rulebase::Header& header,
                                  const slipcase::rulebase::Term& member,
                                  const slipcase::rulebase::Rulebase& rules);

}  // namespace reference
