// What the car came for.
#pragma once

#include <vector>

#include "evaluation/job_facts.h"
#include "evaluation/states.h"
#include "grounding/ground.h"
#include "network/network.h"

namespace slipcase::advice {

/// Assumed: the card names nothing that was seen, so everything that was is taken.
struct Complaint {
  std::vector<grounding::GroundFinding> findings;
  bool assumed = false;

  [[nodiscard]] std::vector<network::FindingId> ids() const;
};

[[nodiscard]] Complaint complaint_of(const grounding::GroundRules& ground,
                                     const evaluation::Evaluation& states,
                                     const evaluation::JobFacts& facts);

}  // namespace slipcase::advice
