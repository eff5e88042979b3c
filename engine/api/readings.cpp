// Questions about the readings of a job.
#include "advice/compare.h"
#include "api/parts.h"
#include "slipcase/compare.h"

namespace slipcase {

Comparisons compare_readings(const Knowledge& knowledge, const Job& job) {
  Knowledge::Parts& parts = knowledge.parts();
  const evaluation::JobFacts& facts = job.parts().facts;
  const evaluation::Evaluation& states = parts.evaluator.evaluate(facts);
  Comparisons result;
  result.job = job.parts().title.job;
  result.unit = job.parts().title.unit;
  result.snapshots = facts.snapshots.size();
  result.ordered = facts.ordered;
  result.list = advice::comparisons(*parts.ground, facts, states);
  return result;
}

}  // namespace slipcase
