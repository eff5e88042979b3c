#include "decision/repair_plan.h"

#include <bit>

namespace slipcase::decision {
namespace {

/// More repairs at once than this are not planned in one round.
constexpr int most_together = 3;

struct Best {
  double cost = 0;
  RepairSet next = 0;  // empty: stop here
};

/// Cheapest weighed cost to go from every set of repairs done.
std::vector<Best> solve(const Problem& problem, const Prospect& prospect, OnceSet paid) {
  const RepairSet all = (RepairSet{1} << problem.repairs.size()) - 1;
  std::vector<Work> work(std::size_t{all} + 1);
  for (RepairSet set = 0; set <= all; ++set) work[set] = together(problem, set);

  std::vector<Best> best(std::size_t{all} + 1);
  for (RepairSet done = all + 1; done-- > 0;) {
    const double open = prospect.chance - prospect.ended[done];
    Best& here = best[done];
    here.cost = problem.unsolved * open;
    const OnceSet paid_here = done == 0 ? paid : paid_after(problem, work[done], paid);
    const RepairSet left = all & ~done;
    for (RepairSet round = left; round != 0; round = (round - 1) & left) {
      if (std::popcount(round) > most_together) continue;
      const RepairSet after = done | round;
      const double cost = cost_of(problem, work[round], paid_here) * open +
                          problem.comeback * (prospect.chance - prospect.ended[after]) +
                          best[after].cost;
      if (cost < here.cost) here = {cost, round};
    }
  }
  return best;
}

}  // namespace

RepairPlan best_repairs(const Problem& problem, const Prospect& prospect, OnceSet paid) {
  const std::vector<Best> best = solve(problem, prospect, paid);
  RepairPlan plan{.weighed_cost = best[0].cost, .rounds = {}};
  for (RepairSet done = 0; best[done].next != 0; done |= plan.rounds.back())
    plan.rounds.push_back(best[done].next);
  return plan;
}

RepairPlan best_repairs_after(const Problem& problem, const Prospect& prospect, OnceSet paid,
                              RepairSet first) {
  const std::vector<Best> best = solve(problem, prospect, paid);
  RepairPlan plan{.weighed_cost = 0, .rounds = {first}};
  for (RepairSet done = first; best[done].next != 0; done |= plan.rounds.back())
    plan.rounds.push_back(best[done].next);
  plan.weighed_cost = cost_of_rounds(problem, prospect, paid, plan.rounds);
  return plan;
}

double cost_of_best_repairs(const Problem& problem, const Prospect& prospect, OnceSet paid) {
  return solve(problem, prospect, paid)[0].cost;
}

double cost_of_rounds(const Problem& problem, const Prospect& prospect, OnceSet paid,
                      const std::vector<RepairSet>& rounds) {
  double cost = 0;
  RepairSet done = 0;
  for (const RepairSet round : rounds) {
    const Work work = together(problem, round);
    cost += cost_of(problem, work, paid) * (prospect.chance - prospect.ended[done]);
    paid = paid_after(problem, work, paid);
    done |= round;
    cost += problem.comeback * (prospect.chance - prospect.ended[done]);
  }
  return cost + problem.unsolved * (prospect.chance - prospect.ended[done]);
}

}  // namespace slipcase::decision
