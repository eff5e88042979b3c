// One job ready for questions: its network, what is known, and a solver that keeps its plans.
#pragma once

#include <optional>
#include <variant>
#include <vector>

#include "advice/tried.h"
#include "evaluation/states.h"
#include "model/rule_network.h"
#include "network/solver.h"
#include "slipcase/ranking.h"

namespace slipcase::advice {

using grounding::GroundCause;
using grounding::GroundFinding;

/// The two ways in which a job has no ranking.
using Failure = std::variant<ImpossibleEvidence, TooWide>;

template <class T>
using Answer = std::variant<T, Failure>;

class JobModel {
 public:
  /// `tried`: repairs that did not help. All chances are then those of what is there after them.
  JobModel(const model::RuleNetwork& rules, const evaluation::Evaluation& states,
           std::size_t memory_bytes, TriedInVain tried = {});

  [[nodiscard]] const model::RuleNetwork& rules() const { return rules_; }
  [[nodiscard]] const grounding::GroundRules& ground() const { return *rules_.rules; }
  [[nodiscard]] const evaluation::Evaluation& states() const { return states_; }
  /// The rules' network with this job's rates.
  [[nodiscard]] const network::Network& network() const { return network_; }
  [[nodiscard]] network::Solver& solver() { return solver_; }
  [[nodiscard]] const std::vector<network::Observation>& observations() const {
    return observations_;
  }
  [[nodiscard]] std::size_t memory_bytes() const { return memory_bytes_; }
  [[nodiscard]] const TriedInVain& tried() const { return tried_; }
  [[nodiscard]] network::Evidence evidence() const {
    return {observations_, {}, !tried_.failed.empty()};
  }

  /// The same job as if nothing had been tried; what plans are made with.
  [[nodiscard]] network::Solver& solver_before_repairs();
  [[nodiscard]] network::Evidence evidence_before_repairs() const { return {observations_, {}}; }
  /// With nothing known of this job but its circumstances.
  [[nodiscard]] Answer<network::Posterior> prior();

  /// Exact posterior of the evidence, or why there is none.
  [[nodiscard]] Answer<network::Posterior> solve(const network::Evidence& evidence);
  [[nodiscard]] Failure explain_failure(const network::Outcome& outcome,
                                        const network::Evidence& evidence);

  [[nodiscard]] network::HiddenId hidden(GroundCause cause) const {
    return rules_.of_cause.at(cause.at());
  }
  [[nodiscard]] Probability chance(const network::Posterior& posterior, GroundCause cause) const {
    return posterior.hidden.at(hidden(cause).at());
  }

 private:
  [[nodiscard]] network::SolverOptions options() const;
  [[nodiscard]] bool is_refuted_by_repairs(network::Evidence evidence);

  const model::RuleNetwork& rules_;
  const evaluation::Evaluation& states_;
  std::size_t memory_bytes_;
  TriedInVain tried_;
  network::Network network_;
  network::Solver solver_;
  std::optional<network::Solver> solver_before_repairs_;
  std::vector<network::Observation> observations_;
};

/// What is known of a finding, for people and programs.
[[nodiscard]] FindingReport report(const JobModel& job, GroundFinding finding);

/// Grade as people say it: "high", "raised or more", "" for an ungraded finding.
[[nodiscard]] std::string grade_text(const rulebase::Finding& declaration, std::uint32_t at_least,
                                     std::uint32_t at_most);

}  // namespace slipcase::advice
