// From counts as a shop writes them to the numbers of the network.
//
// A count is what a shop would count: "shows F in 8 of 10 jobs" is P(F | only this cause present)
// and so includes whatever else makes F. The part that the cause itself adds is, with share s and
// the rate a without any cause, fire = (s - a) / (1 - a), pass = (1 - s) / (1 - a) (M. Henrion,
// "Some practical issues in constructing belief networks", UAI 1987).
#pragma once

#include <optional>
#include <vector>

#include "rulebase/rulebase.h"
#include "slipcase/probability.h"
#include "units/count.h"

namespace slipcase::model {

/// The rate of one member when `count` says how often at least one of `members` has it.
[[nodiscard]] Probability member_rate(const units::Count& count, bool together,
                                      std::size_t members);

/// A rate without a cause: a count, where it was counted, or a number that was solved for.
struct BaseRate {
  Probability rate;
  std::optional<units::Count> count;  // exact, if the rate is this count as written
};

/// What a parent adds. `share_below_base` is set when the share is below the base rate by more than
/// half a count: then it is no link, and that deserves a warning.
struct LinkStrength {
  Probability fire;
  bool share_below_base = false;
};
[[nodiscard]] LinkStrength link_strength(const units::Count& share, const BaseRate& base);

/// Base rates of a finding's grades as written by `otherwise`: half a count where a grade says 0 or
/// is left out, and never rising from grade to grade.
[[nodiscard]] std::vector<BaseRate> otherwise_rates(const rulebase::GradedLine& line,
                                                    std::size_t grades, std::size_t members);

/// Strengths per grade, weakest first. From the strongest grade down a weaker one passes at most as
/// much as the next stronger: who shows "high" shows "raised or more". `order_broken` is set when
/// that changed a written count by more than half a count.
struct GradedStrength {
  std::vector<Probability> fire;
  std::optional<std::size_t> below_base;  // the weakest grade of which that can be said
  bool order_broken = false;
};
[[nodiscard]] GradedStrength graded_strength(const rulebase::GradedLine& line,
                                             const std::vector<BaseRate>& base);

}  // namespace slipcase::model
