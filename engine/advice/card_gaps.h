// Rules that wait for a fact the card does not give, and what such a fact could move.
#pragma once

#include <vector>

#include "advice/stories.h"
#include "advice/ways.h"
#include "evaluation/evaluator.h"
#include "evaluation/open_facts.h"
#include "slipcase/source.h"

namespace slipcase::advice {

/// A fact that rules wait for, and what hangs on it.
struct AwaitedFact {
  struct Move {
    GroundCause cause;
    Probability then;  // if the rule that asks applied
  };
  evaluation::OpenFact fact;
  std::vector<std::string> could_hold_back;  // reasons of distrusts that would hold something back
  std::vector<Move> moves;                   // of judged causes
};

struct OpenRules {
  std::vector<UndecidedRule> rules;
  std::vector<CardGap> gaps;  // what could move a cause most first
  std::vector<AwaitedFact> awaited;
};

/// `evaluator` holds the job.
[[nodiscard]] OpenRules open_rules(JobModel& job, evaluation::Evaluator& evaluator,
                                   const Ways& ways, const network::Posterior& now,
                                   const SourceSet& sources);

}  // namespace slipcase::advice
