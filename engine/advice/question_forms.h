// How the question about one thing is put, and which answers it takes.
#pragma once

#include "evaluation/job_facts.h"
#include "grounding/ground.h"
#include "slipcase/ask.h"

namespace slipcase::advice {

[[nodiscard]] Question question_of(const grounding::GroundRules& ground,
                                   const evaluation::JobFacts& facts,
                                   grounding::GroundFinding finding);
[[nodiscard]] Question question_of(const grounding::GroundRules& ground,
                                   const evaluation::JobFacts& facts, grounding::GroundEvent event);
[[nodiscard]] Question question_of(const grounding::GroundRules& ground,
                                   const evaluation::JobFacts& facts,
                                   grounding::GroundDetail detail);
/// Which codes the controller (of the profile's list) stored.
[[nodiscard]] Question codes_question(const grounding::GroundRules& ground,
                                      const evaluation::JobFacts& facts, std::size_t controller);
/// With no finding on the card: which one is it.
[[nodiscard]] Question what_it_came_for();
/// Whether the finding, which is there, is what the car came for.
[[nodiscard]] Question complaint_question(const grounding::GroundRules& ground,
                                          grounding::GroundFinding finding);

}  // namespace slipcase::advice
