// Everything that can be settled before the numbers come in.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "network/program.h"
#include "network/situation.h"
#include "network/solver.h"
#include "network/wiring.h"

namespace slipcase::network {

/// Where each node stood in the order of a former plan; `none` for those that had no place.
struct FamiliarOrder {
  std::vector<std::uint32_t> hidden;    // by hidden node
  std::vector<std::uint32_t> findings;  // by finding
};

/// A further program, run for the posterior of one node below which nothing is known.
struct SideProgram {
  Program program;
  std::uint32_t hidden = 0;
};

struct Plan {
  Program program;
  std::vector<SideProgram> sides;
  std::vector<std::uint32_t>
      derived;  // nothing known below; from their independent parents, in order
  std::vector<HiddenId> skipped;
  double bytes = 0;
  std::optional<HiddenId> branch_on;  // set: run the two branches instead
};

[[nodiscard]] FamiliarOrder order_of(const Plan& plan, const Wiring& wiring,
                                     const Situation& situation);

/// `familiar`: null, or the order of a plan for a situation that may be much like this one.
/// `may_branch`: a plan that does not fit may name a node to split on.
[[nodiscard]] Plan make_plan(const Wiring& wiring, const Situation& situation,
                             const SolverOptions& options, const FamiliarOrder* familiar,
                             bool must_branch, bool may_branch);

}  // namespace slipcase::network
