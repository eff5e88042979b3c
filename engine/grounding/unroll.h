// The steps of ground(), in the order in which they run.
#pragma once

#include "grounding/ground.h"

namespace slipcase::grounding {

/// Numbers every declaration's members.
void number(GroundRules& ground);

/// What the profile says of readings and events, by ground number.
void take_from_profile(GroundRules& ground, Diagnostics& diagnostics);

/// Links, flags, `at most one` and what distrusts set aside, per member.
void unroll_links(GroundRules& ground);
void unroll_flags(GroundRules& ground);
void unroll_at_most_one(GroundRules& ground);
void unroll_distrusts(GroundRules& ground);

/// Compiles every condition for every member.
void unroll_conditions(GroundRules& ground);

/// The order of evaluation and who depends on whom.
void put_in_order(GroundRules& ground, Diagnostics& diagnostics);

}  // namespace slipcase::grounding
