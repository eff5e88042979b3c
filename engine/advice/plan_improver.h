// Takes repairs into a choice that make the best plan with it cheaper.
//
// Of the repairs left out each is tried alone, before the plan, after it and in each of its rounds;
// of those that come nearest to paying also pairs, with each other and with what was chosen.
#pragma once

#include <cstddef>
#include <vector>

#include "advice/repair_ends.h"
#include "decision/repair_plan.h"

namespace slipcase::advice {

/// The repairs of several as one piece of work.
[[nodiscard]] decision::Work together(const RepairList& repairs);

class PlanImprover {
 public:
  /// `shared`: what is paid once, and what a complaint costs that stays; its repairs are not used.
  PlanImprover(decision::Problem shared, decision::OnceSet paid, RepairEnds& ends,
               const RepairList& all)
      : shared_(std::move(shared)), paid_(paid), ends_(ends), all_(all) {}

  /// Those that the best plan uses first; at most `how_many`, or as many as it uses.
  [[nodiscard]] RepairList improved(RepairList chosen, std::size_t how_many);

  /// What these rounds, in this order, cost until the complaint is gone.
  using Rounds = std::vector<RepairList>;
  [[nodiscard]] double cost_of(const Rounds& rounds);
  [[nodiscard]] Rounds best_plan(const RepairList& chosen);

 private:
  struct Offer {
    double cost = 0;
    RepairList more;  // to be taken in
  };

  [[nodiscard]] Offer with_one_more(const Rounds& plan, const RepairStep* repair);
  [[nodiscard]] Offer with_two(const Rounds& plan, const RepairStep* first,
                               const RepairStep* second, const RepairList& chosen);
  [[nodiscard]] Offer best_offer(const Rounds& plan, const RepairList& chosen);

  decision::Problem shared_;
  decision::OnceSet paid_;
  RepairEnds& ends_;
  const RepairList& all_;
};

}  // namespace slipcase::advice
