// The chances that planning asks for, from the network of the job.
//
// Every set of repairs has a network of its own (network/cure.h) and a solver that keeps its plans.
// The answers of a check come from cumulative questions, "at most this grade": those share one plan
// and go eight at a time; a single answer is a difference of them. Weights are relative to what the
// card says; their errors are absolute, around 1e-13, which is far below what a plan can feel.
#pragma once

#include <map>
#include <memory>
#include <vector>

#include "advice/job_model.h"
#include "decision/look_ahead.h"
#include "network/cure.h"

namespace slipcase::advice {

/// What a check would tell, as far as it is weighed.
struct OpenQuestion {
  std::vector<GroundFinding> findings;  // few: their answers are taken jointly
};

class JobOracle : public decision::Oracle {
 public:
  /// `repairs`: what each cures. `tried`: what was cured already without ending the complaint.
  JobOracle(JobModel& job, std::vector<network::FindingId> complaint,
            std::vector<std::vector<network::Cure>> repairs, std::vector<network::Cure> tried,
            std::vector<OpenQuestion> questions);

  [[nodiscard]] decision::Prospect now(const decision::Path& path) override;
  [[nodiscard]] std::vector<decision::Prospect> after(const decision::Path& path,
                                                      std::size_t check) override;

  /// The chance that the set ends the complaint, were each of these findings not known.
  [[nodiscard]] std::vector<double> ends_without(decision::RepairSet set,
                                                 const std::vector<GroundFinding>& findings);

  /// The chance that the set ends the complaint, first with nothing known but the complaint, then
  /// with each of these findings more, in this order.
  [[nodiscard]] std::vector<double> ends_along(decision::RepairSet set,
                                               const std::vector<GroundFinding>& findings);

  /// What an answer of a question says.
  [[nodiscard]] std::vector<network::Observation> observations_of(
      const decision::Answer& answer) const;
  [[nodiscard]] std::size_t outcome_count(std::size_t question) const;

  /// States touched by one question about all repairs done: what a sweep costs at most.
  [[nodiscard]] double states_of_all_repairs();

  /// Set when an answer could not be had in the memory given.
  [[nodiscard]] const std::optional<TooWide>& too_wide() const { return too_wide_; }

 private:
  struct SetSolver {
    network::CureQuestion question;
    network::Solver solver;
  };

  SetSolver& solver_for(decision::RepairSet set);
  [[nodiscard]] std::vector<double> weights(network::Solver& solver,
                                            const network::Evidence& evidence,
                                            const std::vector<std::vector<network::Observation>>&);
  [[nodiscard]] static std::vector<double> weights_without(
      network::Solver& solver, const network::Evidence& evidence,
      const std::vector<GroundFinding>& findings);
  /// From log weights of each supposition: all, ended by the set, ended before.
  [[nodiscard]] static std::vector<double> shares(const std::vector<double>& all,
                                                  const std::vector<double>& ended,
                                                  const std::vector<double>& gone);
  [[nodiscard]] std::vector<network::Observation> observations_on(const decision::Path& path) const;
  [[nodiscard]] std::vector<decision::Prospect> prospects(
      const std::vector<network::Observation>& path, std::size_t question);
  [[nodiscard]] std::uint32_t grades(GroundFinding finding) const;

  JobModel& job_;
  std::vector<network::FindingId> complaint_;
  std::vector<std::vector<network::Cure>> repairs_;
  std::vector<network::Cure> tried_;
  std::vector<OpenQuestion> questions_;
  double log_evidence_ = 0;
  std::optional<decision::Prospect> now_;  // of an empty path
  std::map<std::size_t, std::vector<decision::Prospect>> first_answers_;
  std::map<decision::RepairSet, std::unique_ptr<SetSolver>> solvers_;
  std::optional<TooWide> too_wide_;
};

}  // namespace slipcase::advice
