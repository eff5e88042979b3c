// A job card, the rules and the unit profile brought together.
#pragma once

#include <optional>

#include "evaluation/job_facts.h"
#include "facts/job_card.h"
#include "grounding/ground.h"
#include "slipcase/diagnostic.h"

namespace slipcase::evaluation {

/// Looks every name of the card up and checks every value against the profile. All errors are
/// reported in one run; nothing comes back if there was one. Warnings do not stop it.
[[nodiscard]] std::optional<JobFacts> bind(const grounding::GroundRules& rules,
                                           const facts::JobCard& card, Diagnostics& diagnostics);

}  // namespace slipcase::evaluation
