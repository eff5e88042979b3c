// Which repairs are worth planning with.
//
// Planning is exact for what it is given, and its cost doubles with every repair; so a few are
// chosen. Some end the complaint by themselves; of others only several together do (a wet plug, and
// the fluid that ran out through it). What is chosen is then improved: as long as the best plan
// gets cheaper by one more repair, or by two more, these are taken in for what the plan does not
// use.
#pragma once

#include <cstddef>
#include <vector>

#include "advice/complaint.h"
#include "advice/repair_ends.h"

namespace slipcase::advice {

/// What a choice goes by.
struct ChoiceOf {
  JobModel& job;
  const Workshop& shop;
  const Complaint& complaint;
  const std::vector<network::Cure>& tried;  // without ending the complaint
  const std::vector<GroundRepair>& coming;  // whatever is planned
  const std::vector<bool>& judged;          // per ground cause
  const network::Posterior& now;
  decision::OnceSet paid = 0;
};

/// Nothing that it cures itself must wait to be judged.
[[nodiscard]] bool cures_only_judged(const JobModel& job, const Workshop& shop,
                                     const RepairStep& repair);

/// At most `how_many`, or as many as the best plan uses, those that the best plan uses first.
/// Repairs that only cure what must not be judged are left out.
[[nodiscard]] std::vector<RepairStep> promising_repairs(const ChoiceOf& choice,
                                                        std::size_t how_many);

}  // namespace slipcase::advice
