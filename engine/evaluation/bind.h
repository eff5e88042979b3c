// A job card, the rules and the unit profile brought together.
#pragma once

#include <optional>
#include <span>

#include "evaluation/job_facts.h"
#include "facts/job_card.h"
#include "facts/supposition.h"
#include "grounding/ground.h"
#include "slipcase/diagnostic.h"

namespace slipcase::evaluation {

/// Looks every name of the card up and checks every value against the profile. All errors are
/// reported in one run, and nothing that only follows from one; nothing comes back if there was one
/// or the card was faulty before. Warnings do not stop it. What is supposed takes the place of
/// whatever the card answers to the same finding.
[[nodiscard]] std::optional<JobFacts> bind(const grounding::GroundRules& rules,
                                           const facts::JobCard& card, Diagnostics& diagnostics,
                                           std::span<const facts::Supposition> supposed = {});

}  // namespace slipcase::evaluation
