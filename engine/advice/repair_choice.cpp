#include "advice/repair_choice.h"

#include <algorithm>
#include <limits>

#include "advice/plan_improver.h"
#include "support/sort_key.h"

namespace slipcase::advice {
namespace {

/// A repair is looked at when it cures something at least this likely.
constexpr double least_to_look_at = 0.003;
constexpr double least_chance_to_end = 0.002;
constexpr std::size_t most_tried_alone = 12;
constexpr std::size_t most_together = 8;

/// `judged`: per ground cause.
bool is_judged(const JobModel& job, const std::vector<bool>& judged, network::HiddenId cured) {
  for (std::uint32_t c = 0; c < job.ground().causes.size(); ++c)
    if (job.hidden(GroundCause{c}) == cured) return judged.at(c);
  return false;
}

/// By what it cures itself: what always follows it can be had without it.
double likely_to_be_needed(const ChoiceOf& choice, const RepairStep& repair) {
  double sum = 0;
  for (const network::Cure& cure : choice.shop.own_cures(repair.repair))
    sum += choice.now.hidden.at(cure.cause.at()).value() * cure.succeeds.value();
  return sum;
}

/// All that may be planned with, the likeliest to be needed first.
RepairList in_question(const ChoiceOf& choice) {
  struct Needed {
    double chance = 0;
    const RepairStep* repair = nullptr;
  };
  std::vector<Needed> needed;
  for (const RepairStep& repair : choice.shop.repairs()) {
    if (std::ranges::find(choice.coming, repair.repair) != choice.coming.end()) continue;
    const double chance = likely_to_be_needed(choice, repair);
    const bool any_judged = std::ranges::any_of(repair.cures, [&](const network::Cure& cure) {
      return is_judged(choice.job, choice.judged, cure.cause);
    });
    if (chance >= least_to_look_at && any_judged) needed.push_back({chance, &repair});
  }
  std::ranges::stable_sort(needed, std::ranges::greater{},
                           [](const Needed& n) { return sort_key(n.chance); });
  RepairList list;
  for (const Needed& one : needed) list.push_back(one.repair);
  return list;
}

RepairList without(RepairList repairs, std::size_t place) {
  repairs.erase(repairs.begin() + static_cast<std::ptrdiff_t>(place));
  return repairs;
}

/// The first choice: those that promise most for their cost alone; and of those that are needed
/// together the set that costs least, found from the other end: for each likely cause what cures it
/// for least, all together, and away with the one without which the rest costs least.
class FirstChoice {
 public:
  FirstChoice(const ChoiceOf& choice, RepairEnds& ends, const RepairList& in_question)
      : choice_(choice),
        shop_(choice.shop),
        ends_(ends),
        in_question_(in_question),
        fallback_(choice.shop.shared().unsolved) {}

  RepairList run(std::size_t how_many) {
    RepairList chosen = best_alone(how_many / 2);
    for (const RepairStep* repair : cheapest_together(how_many - chosen.size()))
      if (std::ranges::find(chosen, repair) == chosen.end()) chosen.push_back(repair);
    return chosen;
  }

 private:
  [[nodiscard]] double cost(const decision::Work& work) const {
    return std::max(1.0, decision::cost_of(shop_.shared(), work, 0));
  }

  [[nodiscard]] double where_it_stays(double ends) const {
    return (1.0 - ends) * (shop_.shared().comeback + fallback_);
  }

  RepairList best_alone(std::size_t how_many) {
    struct Scored {
      double score = 0;
      const RepairStep* repair = nullptr;
    };
    std::vector<Scored> scored;
    double fallback = fallback_;
    for (const RepairStep* repair : in_question_) {
      if (scored.size() == most_tried_alone) break;
      const double chance = ends_.of({repair});
      fallback = std::min(fallback, cost(repair->work) + where_it_stays(chance));
      if (chance >= least_chance_to_end) scored.push_back({chance / cost(repair->work), repair});
    }
    fallback_ = fallback;
    std::ranges::stable_sort(scored, std::ranges::greater{},
                             [](const Scored& one) { return sort_key(one.score); });
    RepairList best;
    for (const Scored& one : scored)
      if (best.size() < how_many) best.push_back(one.repair);
    return best;
  }

  /// Dear work that cures a cause by the way would crowd out what is there for it.
  [[nodiscard]] RepairList cheapest_for_each_cause() const {
    struct Likely {
      double chance = 0;
      const RepairStep* repair = nullptr;
    };
    std::vector<Likely> likely;
    for (std::uint32_t c = 0; c < choice_.job.ground().causes.size(); ++c) {
      const double chance = choice_.job.chance(choice_.now, GroundCause{c}).value();
      if (!choice_.judged.at(c) || chance < least_to_look_at) continue;
      likely.push_back({chance, cheapest_for(choice_.job.hidden(GroundCause{c}))});
    }
    std::ranges::stable_sort(likely, std::ranges::greater{},
                             [](const Likely& l) { return sort_key(l.chance); });
    RepairList list;
    for (const Likely& one : likely)
      if (one.repair != nullptr && list.size() < most_together &&
          std::ranges::find(list, one.repair) == list.end())
        list.push_back(one.repair);
    return list;
  }

  [[nodiscard]] const RepairStep* cheapest_for(network::HiddenId cause) const {
    const RepairStep* cheapest = nullptr;
    double least = std::numeric_limits<double>::infinity();
    for (const RepairStep* repair : in_question_) {
      for (const network::Cure& cure : shop_.own_cures(repair->repair)) {
        if (cure.cause != cause || !(cure.succeeds.value() > 0)) continue;
        const double for_a_cure = cost(repair->work) / cure.succeeds.value();
        if (for_a_cure >= least) continue;
        least = for_a_cure;
        cheapest = repair;
      }
    }
    return cheapest;
  }

  /// Of these together, and of the best one alone where they do not end it.
  double expected_cost(const RepairList& repairs) {
    return cost(together(repairs)) + where_it_stays(ends_.of(repairs));
  }

  /// Of the sets of two and more met on the way down, at most so large, the one that costs least.
  RepairList cheapest_together(std::size_t how_many) {
    RepairList all = cheapest_for_each_cause();
    RepairList cheapest;
    double least = std::numeric_limits<double>::infinity();
    while (all.size() > 2) {
      std::size_t leave = 0;
      double least_here = std::numeric_limits<double>::infinity();
      for (std::size_t i = 0; i < all.size(); ++i) {
        const double rest = expected_cost(without(all, i));
        if (rest >= least_here) continue;
        least_here = rest;
        leave = i;
      }
      all = without(std::move(all), leave);
      if (all.size() > how_many || least_here >= least) continue;
      least = least_here;
      cheapest = all;
    }
    return cheapest;
  }

  const ChoiceOf& choice_;
  const Workshop& shop_;
  RepairEnds& ends_;
  const RepairList& in_question_;
  double fallback_;  // what it costs by one repair alone, and to find the fault where that fails
};

}  // namespace

bool cures_only_judged(const JobModel& job, const Workshop& shop, const RepairStep& repair) {
  const std::vector<network::Cure> cures = shop.own_cures(repair.repair);
  return std::ranges::all_of(cures, [&](const network::Cure& cure) {
    return is_judged(job, job.states().judged, cure.cause);
  });
}

std::vector<RepairStep> promising_repairs(const ChoiceOf& choice, std::size_t how_many) {
  RepairEnds ends(choice.job, choice.complaint.ids(), choice.tried);
  const RepairList all = in_question(choice);
  PlanImprover improver(choice.shop.shared(), choice.paid, ends, all);
  std::vector<RepairStep> result;
  for (const RepairStep* repair :
       improver.improved(FirstChoice(choice, ends, all).run(how_many), how_many))
    result.push_back(*repair);
  return result;
}

}  // namespace slipcase::advice
