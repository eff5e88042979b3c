// What the rules hold and imply, for listing.
#pragma once

#include <string_view>

#include "model/rule_network.h"
#include "slipcase/rules_list.h"

namespace slipcase::advice {

[[nodiscard]] RulesList list_rules(const model::RuleNetwork& network, const SourceSet& sources,
                                   std::string_view word);

}  // namespace slipcase::advice
