#include "advice/planning.h"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "advice/remarks.h"
#include "advice/step_reports.h"
#include "support/sort_key.h"

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
constexpr double most_work = 5e8;
constexpr std::size_t least_repairs = 4;
constexpr std::size_t least_checks = 3;
constexpr double least_answers = 8;  // of the least checks together

/// Answers rarer than this are not told.
constexpr double worth_telling = 0.005;

/// Checks that save nearly as much as the best: what costs least for it goes first, and of two
/// alike what a repair asks for anyway.
constexpr double nearly = 0.7;
constexpr double nearly_if_needed = 0.3;

/// What saves less of the whole is no reason to put a repair off: a check that comes before it
/// anyway always saves its own cost.
constexpr double least_share_saved = 0.004;

/// What saves less than this of its own cost is not even told as not worth it.
constexpr double least_told = 0.2;

template <class Pays, class NeededAnyway>
void put_near_ones_in_order(std::vector<decision::CheckValue>& values, const Pays& pays,
                            const NeededAnyway& needed_anyway) {
  if (values.empty() || !pays(values.front())) return;
  const double best = values.front().net();
  const auto is_near = [&](const decision::CheckValue& value) {
    const bool cheaper = value.cost <= values.front().cost;
    const double share = needed_anyway(value) && cheaper ? nearly_if_needed : nearly;
    return pays(value) && value.net() >= best * share;
  };
  std::vector<bool> near;
  std::vector<decision::CheckValue> first;
  std::vector<decision::CheckValue> rest;
  for (const decision::CheckValue& value : values) near.push_back(is_near(value));
  for (std::size_t i = 0; i < values.size(); ++i)
    (near[i] ? first : rest).push_back(std::move(values[i]));
  std::ranges::stable_sort(first, [&](const auto& a, const auto& b) {
    if (needed_anyway(a) != needed_anyway(b)) return needed_anyway(a);
    return sort_key(a.gain * b.cost) > sort_key(b.gain * a.cost);
  });
  std::ranges::move(rest, std::back_inserter(first));
  values = std::move(first);
}

}  // namespace

double share_of(double weight, const Prospect& prospect) {
  return prospect.chance > 0 ? weight / prospect.chance : 0.0;
}

Planning::Planning(JobModel& job, const evaluation::JobFacts& facts, const ShopCosts& costs)
    : job_(job),
      costs_(costs),
      shop_(job, facts, costs),
      complaint_(complaint_of(job.ground(), job.states(), facts)),
      tried_on_card_(job.tried().failed.cures),
      tried_() {
  list_first();
}

Planning::Ahead Planning::ahead() {
  Ahead ahead{.problem = problem_, .oracle = nullptr};
  std::vector<std::vector<network::Cure>> cures;
  for (const RepairStep& repair : repairs_) cures.push_back(repair.cures);
  if (!first_.repairs.empty()) {
    ahead.problem.repairs.push_back(first_.work);
    cures.push_back(first_.cures);
  }
  ahead.oracle = std::make_unique<JobOracle>(job_, complaint_.ids(), std::move(cures),
                                             tried_on_card_, std::vector<OpenQuestion>{});
  return ahead;
}

void Planning::choose(const Posterior& now) {
  choose_repairs(now);
  while (const auto repair = worth_joining()) {
    joined_.push_back(*repair);
    list_first();
    repairs_.clear();
    choose_repairs(now);
  }
  choose_checks(now);
  make_oracle();
}

RepairList Planning::members(RepairSet set) const {
  RepairList list;
  for (std::size_t r = 0; r < repairs_.size(); ++r)
    if ((set >> r & 1U) != 0) list.push_back(&repairs_[r]);
  return list;
}

void Planning::intend(std::span<const GroundRepair> intended,
                      const std::vector<RepairStep>& others) {
  for (const GroundRepair repair : intended) repairs_.push_back(shop_.repairs().at(repair.at()));
  for (const RepairStep& step : others) {
    const auto is_step = [&](GroundRepair other) { return other == step.repair; };
    if (repairs_.size() > repairs_planned) break;
    if (std::ranges::none_of(intended, is_step)) repairs_.push_back(step);
  }
  make_oracle();
}

void Planning::choose_repairs(const Posterior& now) {
  const std::vector<bool> judged = judged_after(job_, first_.repairs);
  for (RepairStep& step : promising_repairs(
           {job_, shop_, complaint_, tried_, first_.repairs, judged, now, first_.paid},
           repairs_planned))
    repairs_.push_back(std::move(step));
  const auto work = [this] {
    make_oracle();
    sweep_ = oracle_->states_of_all_repairs();
    return std::ldexp(sweep_ * least_answers, static_cast<int>(repairs_.size()));
  };
  while (repairs_.size() > least_repairs && work() > most_work) repairs_.pop_back();
  std::ignore = work();
}

void Planning::choose_checks(const Posterior& now) {
  // What is done before everything is not weighed beside the rest.
  std::vector<GroundCheck> coming = first_.checks;
  for (const GroundRepair repair : first_.repairs)
    for (const Workshop::Step& step : shop_.not_done_before(repair))
      if (const auto* check = std::get_if<GroundCheck>(&step)) coming.push_back(*check);
  checks_ = promising_checks(job_, shop_, repairs_, coming, now, checks_weighed);
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
  advice.cautions = cautions_of_findings(job_);
  for (const GroundRepair repair : job_.tried().repairs)
    advice.tried.push_back(report_step(job_, repair));
  advice.in_money = costs_.in_money();
  advice.currency = costs_.currency;
  advice.labour_rate = costs_.labour_rate;
  advice.comeback = problem_.comeback;
  advice.unsolved = problem_.unsolved;
  advice.dearest = shop_.dearest_repair();
  advice.first = first_things(job_, shop_);
  for (const GroundRepair repair : joined_)
    advice.first.insert(advice.first.begin(),
                        {report_step(job_, repair),
                         "it may be judged already, and done now it may spare what would follow",
                         report_before(job_, shop_, repair), 0.0});
  for (FirstThing& thing : advice.first)
    for (std::size_t i = 0; i < first_.repairs.size(); ++i)
      if (thing.step.id == job_.ground().name_of(first_.repairs[i]))
        thing.ends = first_.each_ends[i];
}

NextAdvice Planning::advise(const JobTitle& title, std::size_t most_checks) {
  NextAdvice advice;
  describe_job(title, advice);
  const Prospect now = oracle_->now({});
  const decision::RepairPlan repairs = decision::best_repairs(problem_, now, first_.paid);
  advice.plan = report(repairs.rounds, now, first_.paid);
  for (RepairRound& round : advice.plan)
    round.ends = first_.ends + (1.0 - first_.ends) * round.ends;
  if (!first_.repairs.empty()) {
    const RepairRound first = report_first();
    for (RepairRound& round : advice.plan)
      std::erase_if(round.before, [&](const StepReport& step) {
        return std::ranges::find(first.before, step.id, &StepReport::id) != first.before.end();
      });
    advice.plan.insert(advice.plan.begin(), first);
  }
  advice.cost_of_first = first_.cost;
  advice.cost_of_repairs = with_first(share_of(repairs.weighed_cost, now));
  advice.cost_with_check = advice.cost_of_repairs;
  for (std::size_t r = 0; r < repairs_.size(); ++r)
    advice.alone.push_back(report({RepairSet{1} << r}, now, first_.paid).front());
  std::ranges::stable_sort(advice.alone, std::ranges::greater{},
                           [](const RepairRound& r) { return sort_key(r.ends); });

  std::vector<std::size_t> all(checks_.size());
  for (std::size_t c = 0; c < all.size(); ++c) all[c] = c;
  auto values = decision::value_checks(problem_, *oracle_, {}, first_.paid, all);
  if (oracle_->too_wide()) return advice;
  const RepairSet first_round = repairs.rounds.empty() ? 0 : repairs.rounds.front();
  add_checks(std::move(values), first_round, most_checks, advice);
  return advice;
}

void Planning::add_checks(std::vector<decision::CheckValue> values, RepairSet first_round,
                          std::size_t most_checks, NextAdvice& advice) {
  const OnceSet needs = decision::together(problem_, first_round).needs;
  const auto needed_anyway = [&](const decision::CheckValue& value) {
    const auto& check = checks_[value.check].check;
    return check && (needs & shop_.paid_once(*check)) != 0;
  };
  const auto pays = [&](const decision::CheckValue& value) {
    return value.net() > least_share_saved * advice.cost_of_repairs;
  };
  put_near_ones_in_order(values, pays, needed_anyway);
  for (const decision::CheckValue& value : values) {
    if (advice.checks.size() == most_checks) break;
    if (!(value.gain > least_told * value.cost)) continue;
    advice.checks.push_back(describe(value));
    advice.checks.back().needed_anyway = needed_anyway(value);
    advice.checks.back().pays = pays(value);
  }
  if (!values.empty() && pays(values.front()))
    advice.cost_with_check -= (1.0 - first_.ends) * values.front().net();
}

CheckAdvice Planning::describe(const decision::CheckValue& value) {
  const OpenCheck& open = checks_[value.check];
  CheckAdvice advised;
  advised.step = open.check ? report_step(job_, *open.check)
                            : report_question(job_, open.weighed.findings.front());
  for (const GroundFinding finding : open.weighed.findings)
    advised.findings.push_back(advice::report(job_, finding));
  advised.more_findings = open.more_findings;
  for (const grounding::GroundReading reading : open.still_missing)
    advised.still_missing.push_back(reading_text(job_, reading));
  advised.cost = value.cost;
  advised.gain = value.gain;
  const std::vector<Prospect> outcomes = oracle_->after({}, value.check);
  const OnceSet paid = first_.paid | problem_.checks[value.check].needs;
  for (std::size_t o = 0; o < outcomes.size(); ++o)
    if (value.chance[o] >= worth_telling)
      advised.outcomes.push_back(describe({value.check, o}, value.chance[o], outcomes[o], paid));
  std::ranges::stable_sort(advised.outcomes, std::ranges::greater{},
                           [](const CheckOutcome& o) { return sort_key(o.chance); });
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
  const auto first = posterior != nullptr ? first_judged(job_, *posterior) : std::nullopt;
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
  std::vector<StepReport> done_before;  // told with the round that pays for it
  for (const RepairSet set : sets) {
    const decision::Work work = decision::together(problem_, set);
    RepairRound round;
    round.cost = decision::cost_of(problem_, work, paid);
    paid = decision::paid_after(problem_, work, paid);
    done |= set;
    round.ends = share_of(prospect.ended[done], prospect);
    for (std::size_t r = 0; r < repairs_.size(); ++r) {
      if ((set >> r & 1U) == 0) continue;
      round.repairs.push_back(report_step(job_, repairs_[r].repair));
      add_new(report_before(job_, shop_, repairs_[r].repair), round.before);
      add_new(report_after(job_, repairs_[r].repair), round.after);
    }
    std::erase_if(round.before, [&](const StepReport& step) {
      return std::ranges::find(done_before, step.id, &StepReport::id) != done_before.end();
    });
    add_new(round.before, done_before);
    result.push_back(std::move(round));
  }
  return result;
}

}  // namespace slipcase::advice
