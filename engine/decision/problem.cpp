#include "decision/problem.h"

#include <bit>

namespace slipcase::decision {

double cost_of(const Problem& problem, const Work& work, OnceSet paid) {
  double cost = work.cost;
  for (OnceSet left = work.needs & ~paid; left != 0; left &= left - 1)
    cost += problem.once[static_cast<std::size_t>(std::countr_zero(left))];
  return cost;
}

Work together(const Problem& problem, RepairSet repairs) {
  Work work;
  for (RepairSet left = repairs; left != 0; left &= left - 1) {
    const Work& one = problem.repairs[static_cast<std::size_t>(std::countr_zero(left))];
    work.cost += one.cost;
    work.needs |= one.needs;
  }
  return work;
}

}  // namespace slipcase::decision
