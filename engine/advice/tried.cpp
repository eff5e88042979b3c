#include "advice/tried.h"

#include <algorithm>

#include "advice/complaint.h"

namespace slipcase::advice {

using grounding::GroundCause;
using grounding::GroundRepair;

std::vector<network::Cure> cures_of(const model::RuleNetwork& rules, GroundRepair repair) {
  const grounding::GroundRules& ground = *rules.rules;
  const auto& origin = ground.repairs.origins.at(repair.at());
  std::vector<network::Cure> cures;
  for (const rulebase::CureLine& line : ground.rules->repairs.at(origin.declaration).cures) {
    const Probability succeeds =
        line.count ? line.count->share_at_least_half() : Probability::certain();
    for (const auto member : grounding::reached(ground.rules->unit, line.reach, origin.member)) {
      const GroundCause cause{ground.causes.at(line.cause.index, member)};
      cures.push_back({rules.of_cause.at(cause.at()), succeeds});
    }
  }
  return cures;
}

std::string TriedInVain::says(const grounding::GroundRules& ground) const {
  std::string names;
  for (const GroundRepair repair : repairs)
    names += (names.empty() ? "" : "; ") + ground.says(repair);
  return "It stayed as it was after: " + names;
}

std::optional<GroundRepair> TriedInVain::put_right(const model::RuleNetwork& rules,
                                                   network::HiddenId cause) const {
  std::optional<GroundRepair> surest;
  double most = 0.0;
  for (const GroundRepair repair : repairs) {
    for (const network::Cure& cure : cures_of(rules, repair)) {
      if (cure.cause != cause || cure.succeeds.value() <= most) continue;
      most = cure.succeeds.value();
      surest = repair;
    }
  }
  return surest;
}

std::optional<GroundRepair> repair_that_ended(const evaluation::JobFacts& facts) {
  std::optional<GroundRepair> repair;
  for (const evaluation::DoneRepairFact& done : facts.repairs) {
    if (!done.complaint) continue;
    const bool gone = *done.complaint == facts::ComplaintAfter::gone;
    repair = gone ? std::optional(done.repair) : std::nullopt;
  }
  return repair;
}

TriedInVain tried_in_vain(const model::RuleNetwork& rules, const evaluation::Evaluation& states,
                          const evaluation::JobFacts& facts) {
  TriedInVain tried;
  for (const evaluation::DoneRepairFact& done : facts.repairs) {
    if (!helped_not(done) || std::ranges::find(tried.repairs, done.repair) != tried.repairs.end())
      continue;
    tried.repairs.push_back(done.repair);
    tried.places.push_back(facts.events.at(done.event).place);
    const std::vector<network::Cure> cures = cures_of(rules, done.repair);
    tried.failed.cures.insert(tried.failed.cures.end(), cures.begin(), cures.end());
  }
  if (!tried.failed.cures.empty())
    tried.failed.complaint = complaint_of(*rules.rules, states, facts).ids();
  return tried;
}

}  // namespace slipcase::advice
