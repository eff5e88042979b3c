#include "grounding/ground.h"

#include <stdexcept>

#include "grounding/unroll.h"

namespace slipcase::grounding {

std::optional<GroundRules> ground(std::shared_ptr<const rulebase::Rulebase> rules,
                                  std::shared_ptr<const profile::Profile> profile,
                                  Diagnostics& diagnostics) {
  // Member numbers mean something only in the vocabulary that the rules were resolved against.
  if (rules->unit.unit != profile->vocabulary.unit) {
    throw std::invalid_argument("rules were resolved for another unit profile");
  }
  Diagnostics found;
  GroundRules ground;
  ground.rules = std::move(rules);
  ground.profile = std::move(profile);
  number(ground);
  take_from_profile(ground, found);
  unroll_links(ground);
  unroll_flags(ground);
  unroll_at_most_one(ground);
  unroll_distrusts(ground);
  unroll_conditions(ground);
  put_in_order(ground, found);
  const bool good = !found.has_errors();
  diagnostics.append(std::move(found));
  if (!good) return std::nullopt;
  return ground;
}

}  // namespace slipcase::grounding
