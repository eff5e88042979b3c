// "overall in 4 of 100 jobs" says how many of all jobs show a finding, whatever the reason. The
// network needs the rate without a listed cause; this solves for it.
#pragma once

#include <vector>

#include "model/counts.h"
#include "model/expectation.h"

namespace slipcase::model {

using network::HiddenId;

/// A parent of the finding with the count its rule gives.
struct CountedParent {
  HiddenId parent;
  const rulebase::GradedLine* line = nullptr;
};

struct SolvedRates {
  std::vector<BaseRate> base;       // per grade
  std::vector<bool> causes_exceed;  // per grade: the listed causes alone show it more often
  std::vector<double> reached;      // per grade: the share of all jobs that comes out
  std::vector<double> wanted;       // per grade: that of the line, for one member

  /// What comes out is off what the line says by more than half a count.
  [[nodiscard]] bool is_missed(const rulebase::GradedLine& overall, std::size_t grade) const;
};

/// With rate a and shares s_i, P(below g) = (1 - a) E[product of min(1, (1 - s_i) / (1 - a))]; a is
/// raised until that is 1 - overall, and is never below half a count of the overall line.
[[nodiscard]] SolvedRates solve_overall(const rulebase::GradedLine& overall, std::size_t grades,
                                        std::size_t members,
                                        const std::vector<CountedParent>& parents,
                                        Expectation& expectation);

}  // namespace slipcase::model
