// What a trial says of its job, as a job card.
#pragma once

#include "facts/job_card.h"
#include "grounding/ground.h"

namespace slipcase::advice {

/// The facts of a trial that is written out, each with its place in the rules, so that a message
/// about one points there.
[[nodiscard]] facts::JobCard card_of(const rulebase::Trial& trial,
                                     const grounding::GroundRules& ground);

}  // namespace slipcase::advice
