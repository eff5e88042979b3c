// Which lines of the rules the trials depend on: each line is taken out and the job solved again.
#pragma once

#include <span>

#include "evaluation/job_facts.h"
#include "model/rule_network.h"
#include "rulebase/rulebase.h"
#include "slipcase/trials.h"

namespace slipcase::advice {

/// A trial with its facts bound.
struct TriedTrial {
  const rulebase::Trial* trial = nullptr;
  evaluation::JobFacts facts;
};

/// Trials for whose facts there is no ranking depend on nothing.
[[nodiscard]] TrialCoverage trial_coverage(const model::RuleNetwork& rules,
                                           std::span<const TriedTrial> tried,
                                           const SourceSet& sources, std::size_t memory_bytes);

}  // namespace slipcase::advice
