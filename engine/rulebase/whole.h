// Third pass: refusals that need the whole rule base.
#pragma once

#include "rulebase/context.h"

namespace slipcase::rulebase {

/// Causes and insides, findings and distrusts, events, access: nothing may lead back to itself.
void check_circles(Context& context);
/// Two lines of one cause or inside must not reach the same member of the same thing.
void check_reached_twice(Context& context);
/// `becomes`, `never when` and `possible only when` must not ask what causes show.
void check_counts_twice(Context& context);
/// A finding that something shows needs a rate without it.
void check_rates(Context& context);
/// A distrust must leave something to judge.
void check_something_judged(Context& context);

/// Adds to every event what it counts as through others.
void close_counts_as(Rulebase& rules);

}  // namespace slipcase::rulebase
