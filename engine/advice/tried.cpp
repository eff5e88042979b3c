#include "advice/tried.h"

#include <algorithm>

namespace slipcase::advice {

std::vector<grounding::GroundRepair> tried_in_vain(const evaluation::JobFacts& facts) {
  std::vector<grounding::GroundRepair> repairs;
  for (const evaluation::DoneRepairFact& done : facts.repairs)
    if (helped_not(done) && std::ranges::find(repairs, done.repair) == repairs.end())
      repairs.push_back(done.repair);
  return repairs;
}

}  // namespace slipcase::advice
