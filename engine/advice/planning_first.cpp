// What a plan begins with: what ends the distrusts, and what is worth doing together with it.
#include <algorithm>

#include "advice/plan_improver.h"
#include "advice/planning.h"
#include "advice/step_reports.h"

namespace slipcase::advice {

using decision::Prospect;
using decision::RepairSet;

/// What ends a distrust is done whatever is planned. Where it ends the complaint the plan ends with
/// it; the rest of the plan is for the case that it does not, and learns from that.
void Planning::list_first() {
  first_ = {};
  tried_ = tried_on_card_;
  first_.repairs = joined_;
  for (const GroundRepair repair : first_repairs(job_, shop_))
    if (std::ranges::find(joined_, repair) == joined_.end()) first_.repairs.push_back(repair);
  first_.checks = first_checks(job_, shop_);
  decision::Work checks;
  for (const GroundCheck check : first_.checks) {
    const decision::Work work = shop_.work_of(check);
    checks.cost += work.cost;
    checks.needs |= work.needs;
  }
  RepairList steps;
  for (const GroundRepair repair : first_.repairs) {
    steps.push_back(&shop_.repairs().at(repair.at()));
    first_.cures.insert(first_.cures.end(), steps.back()->cures.begin(), steps.back()->cures.end());
  }
  first_.work = together(steps);
  first_.paid_for_checks = checks.needs;
  first_.paid = first_.repairs.empty()
                    ? checks.needs
                    : decision::paid_after(shop_.shared(), first_.work, checks.needs);
  first_.round = decision::cost_of(shop_.shared(), first_.work, checks.needs);
  first_.cost = decision::cost_of(shop_.shared(), checks, 0) + first_.round;
  first_.ends = first_ends(first_.cures);
  for (const GroundRepair repair : first_.repairs)
    first_.each_ends.push_back(first_.repairs.size() == 1
                                   ? first_.ends
                                   : first_ends(shop_.repairs().at(repair.at()).cures));
  tried_.insert(tried_.end(), first_.cures.begin(), first_.cures.end());
}

double Planning::first_ends(const std::vector<network::Cure>& cures) {
  if (cures.empty()) return 0.0;
  JobOracle oracle(job_, complaint_.ids(), {cures}, tried_on_card_, {});
  const Prospect prospect = oracle.now({});
  return share_of(prospect.ended[1], prospect);
}

double Planning::with_first(double cost) const {
  const double comeback = first_.repairs.empty() ? 0.0 : problem_.comeback;
  return first_.cost + (1.0 - first_.ends) * (comeback + cost);
}

RepairRound Planning::report_first() const {
  RepairRound round;
  round.comes_first = true;
  round.cost = first_.round;
  round.ends = first_.ends;
  for (const GroundRepair repair : first_.repairs) {
    round.repairs.push_back(report_step(job_, repair));
    add_new(report_before(job_, shop_, repair), round.before);
    add_new(report_after(job_, repair), round.after);
  }
  return round;
}

/// A repair of what may be judged already need not wait for what ends the distrust, unless it is
/// dear: what is set aside now may yet speak against it.
std::optional<GroundRepair> Planning::worth_joining() {
  constexpr std::size_t most_joined = 2;
  constexpr double least_saving = 0.004;
  if (first_.repairs.empty() || joined_.size() == most_joined) return std::nullopt;
  const double most_cost = first_.round + problem_.comeback;
  const RepairStep first{
      .repair = {network::Likeness::no_node}, .work = first_.work, .cures = first_.cures};
  RepairEnds ends(job_, complaint_.ids(), tried_on_card_);
  const RepairList none;
  PlanImprover costs(shop_.shared(), first_.paid_for_checks, ends, none);
  PlanImprover::Rounds rounds{{&first}};
  for (const RepairSet set : decision::best_repairs(problem_, oracle_->now({}), first_.paid).rounds)
    rounds.push_back(members(set));
  const double alone = costs.cost_of(rounds);
  double least = (1 - least_saving) * alone;
  std::optional<GroundRepair> best;
  for (const RepairStep& repair : repairs_) {
    const bool is_dear = decision::cost_of(shop_.shared(), repair.work, 0) > most_cost;
    if (is_dear || !cures_only_judged(job_, shop_, repair)) continue;
    PlanImprover::Rounds together{{&repair, &first}};
    for (std::size_t i = 1; i < rounds.size(); ++i) {
      RepairList rest = rounds[i];
      std::erase(rest, &repair);
      if (!rest.empty()) together.push_back(std::move(rest));
    }
    const double cost = costs.cost_of(together);
    if (cost >= least) continue;
    least = cost;
    best = repair.repair;
  }
  return best;
}

}  // namespace slipcase::advice
