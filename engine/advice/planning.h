// A job made ready for planning: its complaint, the repairs and checks that come into question, and
// the oracle that knows their chances.
#pragma once

#include <memory>
#include <span>
#include <vector>

#include "advice/candidates.h"
#include "advice/job_oracle.h"
#include "advice/rank_job.h"
#include "decision/repair_plan.h"
#include "slipcase/next.h"

namespace slipcase::advice {

class Planning {
 public:
  Planning(JobModel& job, const evaluation::JobFacts& facts, const ShopCosts& costs);

  [[nodiscard]] const Complaint& complaint() const { return complaint_; }
  [[nodiscard]] const Workshop& shop() const { return shop_; }
  [[nodiscard]] JobModel& job() { return job_; }

  /// Chooses repairs and checks; `wanted` repairs are among them whatever they promise.
  void choose(const network::Posterior& now, std::span<const GroundRepair> wanted);

  [[nodiscard]] const std::vector<RepairStep>& repairs() const { return repairs_; }
  [[nodiscard]] const std::vector<OpenCheck>& checks() const { return checks_; }
  [[nodiscard]] const decision::Problem& problem() const { return problem_; }
  [[nodiscard]] JobOracle& oracle() { return *oracle_; }

  /// The advice, `next_steps` and the plan beside a review.
  [[nodiscard]] NextAdvice advise(const JobTitle& title, std::size_t most_checks);

  [[nodiscard]] std::vector<RepairRound> report(const std::vector<decision::RepairSet>& rounds,
                                                const decision::Prospect& prospect,
                                                decision::OnceSet paid) const;

 private:
  /// Repairs as many as can be planned with, then checks as many as can be weighed.
  void choose_repairs(const network::Posterior& now, std::span<const GroundRepair> wanted);
  void choose_checks(const network::Posterior& now);
  void make_oracle();
  void plan_for_failure_of_first(std::span<const GroundRepair> wanted);
  void describe_job(const JobTitle& title, NextAdvice& advice) const;
  [[nodiscard]] CheckAdvice describe(const decision::CheckValue& value);
  [[nodiscard]] CheckOutcome describe(const decision::Answer& answer, double chance,
                                      const decision::Prospect& prospect, decision::OnceSet paid);

  JobModel& job_;
  const evaluation::JobFacts& facts_;
  ShopCosts costs_;
  Workshop shop_;
  Complaint complaint_;
  std::vector<network::Cure> tried_;  // on the card, and what must come first
  double sweep_ = 0;                  // states touched by one question about all the repairs
  double first_ends_ = 0;             // what must come first ends the complaint by itself
  std::vector<RepairStep> repairs_;
  std::vector<OpenCheck> checks_;
  decision::Problem problem_;
  std::unique_ptr<JobOracle> oracle_;
};

/// A weight as a share of the chance of getting there.
[[nodiscard]] double share_of(double weight, const decision::Prospect& prospect);

}  // namespace slipcase::advice
