#include "decision/problem.h"

#include <bit>

namespace slipcase::decision {
namespace {

double sum_of(const std::vector<double>& costs, OnceSet items) {
  double sum = 0;
  for (; items != 0; items &= items - 1)
    sum += costs[static_cast<std::size_t>(std::countr_zero(items))];
  return sum;
}

}  // namespace

double cost_of(const Problem& problem, const Work& work, OnceSet paid) {
  return work.cost + sum_of(problem.once, work.needs & ~paid) +
         sum_of(problem.each_time, work.follows);
}

Work together(const Problem& problem, RepairSet repairs) {
  Work work;
  for (RepairSet left = repairs; left != 0; left &= left - 1) {
    const Work& one = problem.repairs[static_cast<std::size_t>(std::countr_zero(left))];
    work.cost += one.cost;
    work.needs |= one.needs;
    work.follows |= one.follows;
  }
  return work;
}

}  // namespace slipcase::decision
