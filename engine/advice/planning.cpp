#include "advice/planning.h"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "advice/step_reports.h"
#include "advice/tried.h"

namespace slipcase::advice {

using decision::OnceSet;
using decision::Prospect;
using decision::RepairSet;
using network::Posterior;

namespace {

/// Sets of repairs are 2 to this power, and each is a sweep for every answer of every check.
constexpr std::size_t repairs_planned = 6;
constexpr std::size_t checks_weighed = 12;

/// On wide jobs fewer of both, so that the answer is there within about a second: states touched
/// over all sweeps. Counted, not timed, so the same job always gets the same answer.
constexpr double most_work = 1e9;
constexpr std::size_t least_repairs = 4;
constexpr std::size_t least_checks = 3;
constexpr double least_answers = 8;  // of the least checks together

/// Answers rarer than this are not told.
constexpr double worth_telling = 0.005;

void add_new(std::vector<StepReport> steps, std::vector<StepReport>& list) {
  for (StepReport& step : steps) {
    const auto same = [&](const StepReport& other) { return other.id == step.id; };
    if (std::ranges::none_of(list, same)) list.push_back(std::move(step));
  }
}

}  // namespace

double share_of(double weight, const Prospect& prospect) {
  return prospect.chance > 0 ? weight / prospect.chance : 0.0;
}

Planning::Planning(JobModel& job, const evaluation::JobFacts& facts, const ShopCosts& costs)
    : job_(job),
      facts_(facts),
      costs_(costs),
      shop_(job, facts, costs),
      complaint_(complaint_of(job, facts)),
      tried_(tried_without_success(shop_, facts)) {}

/// What ends a distrust is done whatever the plan: the plan is for the case that it does not help.
void Planning::plan_for_failure_of_first(std::span<const GroundRepair> wanted) {
  std::vector<network::Cure> cures;
  for (const GroundRepair first : first_repairs(job_, shop_)) {
    if (std::ranges::find(wanted, first) != wanted.end()) continue;
    const auto& step = shop_.repairs().at(first.at());
    cures.insert(cures.end(), step.cures.begin(), step.cures.end());
  }
  if (cures.empty()) return;
  JobOracle first(job_, complaint_.ids(), {cures}, tried_, {});
  const Prospect prospect = first.now({});
  first_ends_ = share_of(prospect.ended[1], prospect);
  tried_.insert(tried_.end(), cures.begin(), cures.end());
}

void Planning::choose(const Posterior& now, std::span<const GroundRepair> wanted) {
  plan_for_failure_of_first(wanted);
  choose_repairs(now, wanted);
  choose_checks(now);
  make_oracle();
}

void Planning::choose_repairs(const Posterior& now, std::span<const GroundRepair> wanted) {
  for (const GroundRepair repair : wanted) repairs_.push_back(shop_.repairs().at(repair.at()));
  for (RepairStep& step :
       promising_repairs(job_, shop_, complaint_, tried_, now, repairs_planned)) {
    if (repairs_.size() >= repairs_planned) break;
    if (std::ranges::find(wanted, step.repair) == wanted.end()) repairs_.push_back(std::move(step));
  }
  const auto work = [this] {
    make_oracle();
    sweep_ = oracle_->states_of_all_repairs();
    return std::ldexp(sweep_ * least_answers, static_cast<int>(repairs_.size()));
  };
  while (repairs_.size() > std::max(least_repairs, wanted.size()) && work() > most_work)
    repairs_.pop_back();
  std::ignore = work();
}

void Planning::choose_checks(const Posterior& now) {
  checks_ = promising_checks(job_, shop_, repairs_, now, checks_weighed);
  double answers = 0;
  std::size_t kept = 0;
  for (const OpenCheck& check : checks_) {
    double of_check = 1;
    for (const GroundFinding finding : check.weighed.findings)
      of_check *= static_cast<double>(job_.network().findings.at(finding.at()).leak.size() + 1);
    answers += of_check;
    const double work = std::ldexp(sweep_ * answers, static_cast<int>(repairs_.size()));
    if (kept >= least_checks && work > most_work) break;
    ++kept;
  }
  checks_.resize(kept);
}

void Planning::make_oracle() {
  problem_ = shop_.shared();
  std::vector<std::vector<network::Cure>> cures;
  for (const RepairStep& repair : repairs_) {
    problem_.repairs.push_back(repair.work);
    cures.push_back(repair.cures);
  }
  std::vector<OpenQuestion> questions;
  for (const OpenCheck& check : checks_) {
    problem_.checks.push_back(check.work);
    questions.push_back(check.weighed);
  }
  oracle_ = std::make_unique<JobOracle>(job_, complaint_.ids(), std::move(cures), tried_,
                                        std::move(questions));
}

void Planning::describe_job(const JobTitle& title, NextAdvice& advice) const {
  advice.job = title.job;
  advice.unit = title.unit;
  for (const GroundFinding finding : complaint_.findings)
    advice.complaint.push_back(advice::report(job_, finding));
  advice.complaint_assumed = complaint_.assumed;
  for (const GroundRepair repair : tried_in_vain(facts_))
    advice.tried.push_back(report_step(job_, repair));
  advice.in_money = costs_.in_money();
  advice.currency = costs_.currency;
  advice.labour_rate = costs_.labour_rate;
  advice.comeback = problem_.comeback;
  advice.unsolved = problem_.unsolved;
  advice.first = first_things(job_, shop_);
  for (FirstThing& thing : advice.first)
    if (thing.step.kind == StepKind::repair) thing.ends = first_ends_;
}

NextAdvice Planning::advise(const JobTitle& title, std::size_t most_checks) {
  NextAdvice advice;
  describe_job(title, advice);
  const Prospect now = oracle_->now({});
  const decision::RepairPlan repairs = decision::best_repairs(problem_, now, 0);
  advice.plan = report(repairs.rounds, now, 0);
  advice.cost_of_repairs = share_of(repairs.weighed_cost, now);
  advice.cost_with_check = advice.cost_of_repairs;
  for (std::size_t r = 0; r < repairs_.size(); ++r)
    advice.alone.push_back(report({RepairSet{1} << r}, now, 0).front());
  std::ranges::stable_sort(advice.alone, std::ranges::greater{}, &RepairRound::ends);

  std::vector<std::size_t> all(checks_.size());
  for (std::size_t c = 0; c < all.size(); ++c) all[c] = c;
  const auto values = decision::value_checks(problem_, *oracle_, {}, 0, all);
  if (oracle_->too_wide()) return advice;
  for (const decision::CheckValue& value : values) {
    if (advice.checks.size() == most_checks) break;
    if (value.gain > 0) advice.checks.push_back(describe(value));
  }
  if (!values.empty() && values.front().net() > 0)
    advice.cost_with_check = advice.cost_of_repairs - values.front().net();
  return advice;
}

CheckAdvice Planning::describe(const decision::CheckValue& value) {
  const OpenCheck& open = checks_[value.check];
  CheckAdvice advised;
  advised.step = open.check ? report_step(job_, *open.check)
                            : report_question(job_, open.weighed.findings.front());
  for (const GroundFinding finding : open.weighed.findings)
    advised.findings.push_back(advice::report(job_, finding));
  advised.more_findings = open.more_findings;
  advised.cost = value.cost;
  advised.gain = value.gain;
  const std::vector<Prospect> outcomes = oracle_->after({}, value.check);
  const OnceSet paid = problem_.checks[value.check].needs;
  for (std::size_t o = 0; o < outcomes.size(); ++o)
    if (value.chance[o] >= worth_telling)
      advised.outcomes.push_back(describe({value.check, o}, value.chance[o], outcomes[o], paid));
  std::ranges::stable_sort(advised.outcomes, std::ranges::greater{}, &CheckOutcome::chance);
  return advised;
}

CheckOutcome Planning::describe(const decision::Answer& answer, double chance,
                                const Prospect& prospect, OnceSet paid) {
  CheckOutcome outcome;
  const auto observations = oracle_->observations_of(answer);
  outcome.answers = answer_texts(job_, observations);
  outcome.chance = chance;
  const decision::RepairPlan plan = decision::best_repairs(problem_, prospect, paid);
  outcome.cost = share_of(plan.weighed_cost, prospect);
  outcome.plan = report(plan.rounds, prospect, paid);

  network::Evidence evidence = job_.evidence();
  evidence.findings.insert(evidence.findings.end(), observations.begin(), observations.end());
  const network::Outcome then = job_.solver().solve(evidence);
  const auto* posterior = std::get_if<Posterior>(&then);
  // The ranking does not know that a repair of its first cause did not help; the plans do.
  const bool ranked = posterior != nullptr && std::ranges::none_of(facts_.repairs, helped_not);
  const auto first = ranked ? first_judged(job_, *posterior) : std::nullopt;
  if (first) {
    outcome.first = job_.ground().name_of(*first);
    outcome.first_says = job_.ground().says(*first);
    outcome.first_chance = job_.chance(*posterior, *first).value();
  }
  return outcome;
}

std::vector<RepairRound> Planning::report(const std::vector<RepairSet>& sets,
                                          const Prospect& prospect, OnceSet paid) const {
  std::vector<RepairRound> result;
  RepairSet done = 0;
  for (const RepairSet set : sets) {
    const decision::Work work = decision::together(problem_, set);
    RepairRound round;
    round.cost = decision::cost_of(problem_, work, paid);
    paid |= work.needs;
    done |= set;
    round.ends = share_of(prospect.ended[done], prospect);
    for (std::size_t r = 0; r < repairs_.size(); ++r) {
      if ((set >> r & 1U) == 0) continue;
      round.repairs.push_back(report_step(job_, repairs_[r].repair));
      add_new(report_before(job_, shop_, repairs_[r].repair), round.before);
      add_new(report_after(job_, repairs_[r].repair), round.after);
    }
    result.push_back(std::move(round));
  }
  return result;
}

}  // namespace slipcase::advice
