// Repairs on the card after which the complaint was as before, or came back.
#pragma once

#include <vector>

#include "evaluation/job_facts.h"

namespace slipcase::advice {

[[nodiscard]] inline bool helped_not(const evaluation::DoneRepairFact& done) {
  return done.complaint && *done.complaint != facts::ComplaintAfter::gone;
}

/// In the order of the card, each once.
[[nodiscard]] std::vector<grounding::GroundRepair> tried_in_vain(const evaluation::JobFacts& facts);

}  // namespace slipcase::advice
