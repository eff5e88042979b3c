// Which check answers a finding.
#pragma once

#include <string>

#include "grounding/ground.h"

namespace slipcase::advice {

struct Answering {
  std::string check;  // "" when nobody looks: a question
  std::string says;   // the check's text, or the question
};

/// The check that takes least time; for a finding that is worked out, one that gives what it is
/// worked out from.
[[nodiscard]] Answering answering_step(const grounding::GroundRules& ground,
                                       grounding::GroundFinding finding);

}  // namespace slipcase::advice
