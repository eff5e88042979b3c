// The network that ground rules mean, in numbers, before any job; and what a job changes in it.
#pragma once

#include <memory>
#include <optional>
#include <variant>
#include <vector>

#include "evaluation/states.h"
#include "grounding/ground.h"
#include "model/counts.h"
#include "model/expectation.h"
#include "network/network.h"

namespace slipcase::model {

using network::HiddenId;
using network::Network;
using network::Observation;

/// Which line of the rules a parent of a finding or of a hidden node comes from.
using LinkLine =
    std::variant<const rulebase::Link*, const rulebase::CauseLink*, const rulebase::Flag*>;

/// What the rules imply for one grade of one finding over all jobs that come in.
struct ImpliedRate {
  BaseRate base;                 // without a listed cause
  double share = 0.0;            // of all jobs
  double share_by_causes = 0.0;  // of all jobs, were there nothing but the listed causes
};

struct RuleNetwork {
  std::shared_ptr<const grounding::GroundRules> rules;
  Network numbers;                        // findings are numbered as the ground findings are
  std::vector<grounding::Source> origin;  // per hidden node
  std::vector<HiddenId> of_cause;         // per ground cause
  std::vector<HiddenId> of_inside;        // per ground inside
  std::vector<std::vector<LinkLine>> hidden_lines;   // parallel to Hidden::parents
  std::vector<std::vector<LinkLine>> finding_lines;  // parallel to Finding::parents
  std::vector<std::vector<BaseRate>> base;           // per finding, per grade

  [[nodiscard]] HiddenId of(const grounding::Source& source) const;
};

/// Per grade, what share of all jobs the rules imply for a finding.
[[nodiscard]] std::vector<ImpliedRate> implied_rates(const RuleNetwork& rules,
                                                     Expectation& expectation,
                                                     grounding::GroundFinding finding);

/// Turns counts into numbers. Warns where a share is below the rate without a cause, where grades
/// contradict each other and where the listed causes alone exceed an `overall`.
[[nodiscard]] RuleNetwork build_network(std::shared_ptr<const grounding::GroundRules> rules,
                                        Diagnostics& diagnostics);

/// The network of one job: rates multiplied by every `becomes` that applies, impossible causes
/// taken out.
[[nodiscard]] Network network_for(const RuleNetwork& rules,
                                  const evaluation::Evaluation& evaluation);

/// A cause's own rate in this job.
[[nodiscard]] Probability rate_for(const RuleNetwork& rules,
                                   const evaluation::Evaluation& evaluation,
                                   grounding::GroundCause cause);

/// Every finding whose state says something, as evidence, in rule order.
[[nodiscard]] std::vector<Observation> observations(const RuleNetwork& rules,
                                                    const evaluation::Evaluation& evaluation);

}  // namespace slipcase::model
