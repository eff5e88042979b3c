#include "advice/plan_improver.h"

#include <algorithm>
#include <limits>

#include "support/sort_key.h"

namespace slipcase::advice {
namespace {

using decision::RepairSet;

/// What saves less is not worth another look at everything.
constexpr double saves_enough = 0.001;
constexpr std::size_t most_times = 8;
constexpr std::size_t most_paired = 6;

/// A repair that ends the complaint in fewer jobs more, alone and behind the plan, is no offer; nor
/// are two that end it in no more jobs than one of them.
constexpr double least_difference = 0.002;

bool contains(const RepairList& list, const RepairStep* repair) {
  return std::ranges::find(list, repair) != list.end();
}

/// With one repair more: what is done after no round of the plan, after the first, and so on.
void add_sets_with(const std::vector<RepairList>& plan, const RepairStep* repair,
                   std::vector<RepairList>& sets) {
  RepairList done{repair};
  sets.push_back(done);
  for (const RepairList& round : plan) {
    done.insert(done.end(), round.begin(), round.end());
    sets.push_back(done);
  }
}

RepairList used_by(const std::vector<RepairList>& rounds) {
  RepairList used;
  for (const RepairList& round : rounds) used.insert(used.end(), round.begin(), round.end());
  return used;
}

}  // namespace

decision::Work together(const RepairList& repairs) {
  decision::Work work;
  for (const RepairStep* repair : repairs) {
    work.cost += repair->work.cost;
    work.needs |= repair->work.needs;
    work.follows |= repair->work.follows;
  }
  return work;
}

PlanImprover::Rounds PlanImprover::best_plan(const RepairList& chosen) {
  decision::Problem problem = shared_;
  for (const RepairStep* repair : chosen) problem.repairs.push_back(repair->work);
  decision::Prospect prospect{.chance = 1, .ended = {}};
  const auto members = [&](RepairSet set) {
    RepairList list;
    for (std::size_t r = 0; r < chosen.size(); ++r)
      if ((set >> r & 1U) != 0) list.push_back(chosen[r]);
    return list;
  };
  std::vector<RepairList> sets;
  for (RepairSet set = 0; set < RepairSet{1} << chosen.size(); ++set) sets.push_back(members(set));
  ends_.ask(sets);
  for (const RepairList& set : sets) prospect.ended.push_back(ends_.of(set));
  Rounds rounds;
  for (const RepairSet set : decision::best_repairs(problem, prospect, paid_).rounds)
    rounds.push_back(members(set));
  return rounds;
}

double PlanImprover::cost_of(const Rounds& rounds) {
  double cost = 0;
  double open = 1;
  decision::OnceSet paid = paid_;
  RepairList done;
  for (const RepairList& round : rounds) {
    const decision::Work work = together(round);
    cost += decision::cost_of(shared_, work, paid) * open;
    paid = decision::paid_after(shared_, work, paid);
    done.insert(done.end(), round.begin(), round.end());
    open = 1 - ends_.of(done);
    cost += shared_.comeback * open;
  }
  return cost + shared_.unsolved * open;
}

PlanImprover::Offer PlanImprover::with_one_more(const Rounds& plan, const RepairStep* repair) {
  Offer best{cost_of({{repair}}), {repair}};
  RepairList all = used_by(plan);
  const double ends = ends_.of(all);
  all.push_back(repair);
  if (ends_.of({repair}) < least_difference && ends_.of(all) - ends < least_difference) return best;
  const auto take = [&](const Rounds& rounds) { best.cost = std::min(best.cost, cost_of(rounds)); };
  for (std::size_t at = 0; at <= plan.size(); ++at) {
    Rounds rounds = plan;
    rounds.insert(rounds.begin() + static_cast<std::ptrdiff_t>(at), RepairList{repair});
    take(rounds);
    if (at == plan.size()) break;
    rounds = plan;
    rounds[at].push_back(repair);
    take(rounds);
  }
  return best;
}

/// Both in one round, by themselves or before the rest of the plan; one of them may be chosen
/// already.
PlanImprover::Offer PlanImprover::with_two(const Rounds& plan, const RepairStep* first,
                                           const RepairStep* second, const RepairList& chosen) {
  Offer best{cost_of({{first, second}}), {first}};
  if (!contains(chosen, second)) best.more.push_back(second);
  const double better_alone = std::max(ends_.of({first}), ends_.of({second}));
  if (ends_.of({first, second}) - better_alone < least_difference) return best;
  Rounds rounds{{first, second}};
  for (RepairList round : plan) {
    std::erase(round, second);
    if (!round.empty()) rounds.push_back(std::move(round));
  }
  best.cost = std::min(best.cost, cost_of(rounds));
  return best;
}

PlanImprover::Offer PlanImprover::best_offer(const Rounds& plan, const RepairList& chosen) {
  std::vector<Offer> offers;
  std::vector<RepairList> sets;
  for (const RepairStep* repair : all_)
    if (!contains(chosen, repair)) add_sets_with(plan, repair, sets);
  ends_.ask(sets);
  for (const RepairStep* repair : all_)
    if (!contains(chosen, repair)) offers.push_back(with_one_more(plan, repair));
  std::ranges::stable_sort(offers, {}, [](const Offer& o) { return sort_key(o.cost); });
  const std::size_t paired = std::min(offers.size(), most_paired);
  for (std::size_t i = 0; i < paired; ++i) {
    const RepairStep* first = offers[i].more.front();
    for (std::size_t k = i + 1; k < paired; ++k)
      offers.push_back(with_two(plan, first, offers[k].more.front(), chosen));
    for (const RepairStep* second : chosen) offers.push_back(with_two(plan, first, second, chosen));
  }
  const auto best =
      std::ranges::min_element(offers, {}, [](const Offer& o) { return sort_key(o.cost); });
  if (best == offers.end()) return {std::numeric_limits<double>::infinity(), {}};
  return std::move(*best);
}

RepairList PlanImprover::improved(RepairList chosen, std::size_t how_many) {
  for (std::size_t time = 0; time < most_times; ++time) {
    const Rounds plan = best_plan(chosen);
    RepairList next = used_by(plan);
    const Offer offer = best_offer(plan, chosen);
    const bool pays = offer.cost < (1 - saves_enough) * cost_of(plan);
    if (pays) next.insert(next.end(), offer.more.begin(), offer.more.end());
    for (const RepairStep* repair : chosen)
      if (next.size() < how_many && !contains(next, repair)) next.push_back(repair);
    chosen = std::move(next);
    if (!pays) break;
  }
  return chosen;
}

}  // namespace slipcase::advice
