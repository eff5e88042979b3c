// Runs the trials that stand beside the shipped rules.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "rulebase/rulebase.h"
#include "slipcase/knowledge.h"

namespace reference {

/// What did not come out as expected, each as text for people; empty when all did.
/// `folder` is where a trial's `job` paths begin.
[[nodiscard]] std::vector<std::string> failures_of(const slipcase::rulebase::Trial& trial,
                                                   const slipcase::Knowledge& knowledge,
                                                   const std::filesystem::path& folder);

}  // namespace reference
