// Which findings make the evidence impossible.
#pragma once

#include <vector>

#include "network/network.h"
#include "network/solver.h"

namespace slipcase::network {

/// For impossible evidence: findings that clash (with what is held), none of which can be left out;
/// no smaller set clashes if it has at most three findings or the search stayed small, see
/// clash.cpp. Empty when the evidence is possible, or impossible by what is held alone.
[[nodiscard]] std::vector<FindingId> clashing_findings(Solver& solver, const Evidence& evidence);

}  // namespace slipcase::network
