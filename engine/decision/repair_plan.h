// The cheapest way to go through repairs when nothing more is looked at.
//
// A plan is a row of rounds; in a round one or more repairs are done together, then the car is
// tried. With E(S) the chance that the set S ends the complaint and S_k all that was done up to
// round k, its expected cost is
//   sum over k of  cost(round k) (1 - E(S_k-1)) + comeback (1 - E(S_k)),  + unsolved (1 - E(last))
// that a repair did not help is in this, for what follows is weighed by the chance that all before
// it failed. With one fault, no shared costs and no comebacks the best order is that of falling
// chance over cost (J. B. Kadane, H. A. Simon, "Optimal strategies for a class of constrained
// sequential problems", Annals of Statistics 5, 1977).
// Method: dynamic programming over the sets of repairs done, every round tried; the result is the
// optimum, not an approximation.
#pragma once

#include <vector>

#include "decision/problem.h"

namespace slipcase::decision {

struct RepairPlan {
  double weighed_cost = 0;  // expected cost times Prospect::chance
  std::vector<RepairSet> rounds;
};

[[nodiscard]] RepairPlan best_repairs(const Problem& problem, const Prospect& prospect,
                                      OnceSet paid);

/// The best plan that begins with this round.
[[nodiscard]] RepairPlan best_repairs_after(const Problem& problem, const Prospect& prospect,
                                            OnceSet paid, RepairSet first);

/// The weighed cost alone, which is all that a comparison needs.
[[nodiscard]] double cost_of_best_repairs(const Problem& problem, const Prospect& prospect,
                                          OnceSet paid);

/// The weighed cost of these rounds, in this order.
[[nodiscard]] double cost_of_rounds(const Problem& problem, const Prospect& prospect, OnceSet paid,
                                    const std::vector<RepairSet>& rounds);

}  // namespace slipcase::decision
