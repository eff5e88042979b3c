// Rules that wait for a fact the card does not give, and what such a fact could move.
#pragma once

#include <vector>

#include "advice/stories.h"
#include "advice/ways.h"
#include "evaluation/evaluator.h"
#include "slipcase/source.h"

namespace slipcase::advice {

struct OpenRules {
  std::vector<UndecidedRule> rules;
  std::vector<CardGap> gaps;  // what could move a cause most first
};

/// `evaluator` holds the job.
[[nodiscard]] OpenRules open_rules(JobModel& job, evaluation::Evaluator& evaluator,
                                   const Ways& ways, const network::Posterior& now,
                                   const SourceSet& sources);

}  // namespace slipcase::advice
