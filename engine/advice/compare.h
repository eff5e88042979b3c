// Readings before and after: what the change of each says.
#pragma once

#include "evaluation/job_facts.h"
#include "evaluation/states.h"
#include "grounding/ground.h"
#include "slipcase/compare.h"

namespace slipcase::advice {

[[nodiscard]] std::vector<Comparison> comparisons(const grounding::GroundRules& ground,
                                                  const evaluation::JobFacts& facts,
                                                  const evaluation::Evaluation& states);

}  // namespace slipcase::advice
