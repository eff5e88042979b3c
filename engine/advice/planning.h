// A job made ready for planning: its complaint, the repairs and checks that come into question, and
// the oracle that knows their chances.
#pragma once

#include <memory>
#include <span>
#include <vector>

#include "advice/check_choice.h"
#include "advice/job_oracle.h"
#include "advice/rank_job.h"
#include "advice/repair_choice.h"
#include "decision/repair_plan.h"
#include "slipcase/next.h"

namespace slipcase::advice {

class Planning {
 public:
  Planning(JobModel& job, const evaluation::JobFacts& facts, const ShopCosts& costs);

  [[nodiscard]] const Complaint& complaint() const { return complaint_; }
  [[nodiscard]] const Workshop& shop() const { return shop_; }
  [[nodiscard]] JobModel& job() { return job_; }

  /// Chooses repairs and checks.
  void choose(const network::Posterior& now);

  /// Instead: plans with these repairs, whatever they promise, and with those others that there is
  /// room for. No checks.
  void intend(std::span<const GroundRepair> intended, const std::vector<RepairStep>& others);

  [[nodiscard]] const std::vector<RepairStep>& repairs() const { return repairs_; }
  [[nodiscard]] const std::vector<OpenCheck>& checks() const { return checks_; }
  [[nodiscard]] const decision::Problem& problem() const { return problem_; }
  [[nodiscard]] JobOracle& oracle() { return *oracle_; }

  /// The advice, `next_steps` and the plan beside a review.
  [[nodiscard]] NextAdvice advise(const JobTitle& title, std::size_t most_checks);

  [[nodiscard]] std::vector<RepairRound> report(const std::vector<decision::RepairSet>& rounds,
                                                const decision::Prospect& prospect,
                                                decision::OnceSet paid) const;

  /// The same repairs before anything is done, and what comes first as one more.
  struct Ahead {
    decision::Problem problem;
    std::unique_ptr<JobOracle> oracle;
  };
  [[nodiscard]] Ahead ahead();
  /// Of the checks that must come before everything.
  [[nodiscard]] double cost_of_first_checks() const { return first_.cost - first_.round; }

  /// What repairs on the card were to cure that did not help.
  [[nodiscard]] const std::vector<network::Cure>& tried() const { return tried_on_card_; }

 private:
  /// What ends the distrusts: done before everything else.
  struct First {
    std::vector<GroundRepair> repairs;
    std::vector<GroundCheck> checks;
    decision::Work work;  // of the repairs
    std::vector<network::Cure> cures;
    decision::OnceSet paid_for_checks = 0;
    decision::OnceSet paid = 0;
    double cost = 0;
    double round = 0;  // what the repairs of it cost
    double ends = 0;   // chance that they end the complaint
    std::vector<double> each_ends;
  };
  void list_first();
  [[nodiscard]] double first_ends(const std::vector<network::Cure>& cures);
  [[nodiscard]] RepairRound report_first() const;
  /// From a cost where what comes first did not end it to one before it.
  [[nodiscard]] double with_first(double cost) const;
  void add_checks(std::vector<decision::CheckValue> values, decision::RepairSet first_round,
                  std::size_t most_checks, NextAdvice& advice);
  /// Repairs as many as can be planned with, then checks as many as can be weighed.
  void choose_repairs(const network::Posterior& now);
  /// To be done with what comes first, as that makes the whole cheaper.
  [[nodiscard]] std::optional<GroundRepair> worth_joining();
  [[nodiscard]] RepairList members(decision::RepairSet set) const;
  void choose_checks(const network::Posterior& now);
  void make_oracle();
  void describe_job(const JobTitle& title, NextAdvice& advice) const;
  [[nodiscard]] CheckAdvice describe(const decision::CheckValue& value);
  [[nodiscard]] CheckOutcome describe(const decision::Answer& answer, double chance,
                                      const decision::Prospect& prospect, decision::OnceSet paid);

  JobModel& job_;
  ShopCosts costs_;
  Workshop shop_;
  Complaint complaint_;
  std::vector<network::Cure> tried_on_card_;
  std::vector<network::Cure> tried_;  // and what must come first
  std::vector<GroundRepair> joined_;  // to what comes first
  First first_;
  double sweep_ = 0;  // states touched by one question about all the repairs
  std::vector<RepairStep> repairs_;
  std::vector<OpenCheck> checks_;
  decision::Problem problem_;
  std::unique_ptr<JobOracle> oracle_;
};

/// A weight as a share of the chance of getting there.
[[nodiscard]] double share_of(double weight, const decision::Prospect& prospect);

}  // namespace slipcase::advice
