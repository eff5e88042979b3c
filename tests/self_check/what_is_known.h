// What a shop would know of a drawn job when it asks for a ranking.
//
// Who knows what is thrown before anybody looks at the draw, so that what is not known hides
// nothing on purpose. Two things depend on the draw all the same.
//
// Of several findings of an `at most one` a person names one. Which one is thrown; the others are
// not known, as in the engine. The engine takes the named one as if nothing had been chosen, so a
// cause that shows two of one list is given a little too much.
//
// Nobody brings a car of which nothing can be told. A draw without anything told and present is
// thrown away. That is seen in the evidence itself, so the chances stay what they are for the jobs
// left.
#pragma once

#include <array>
#include <vector>

#include "self_check/draw_job.h"
#include "self_check/finding_kinds.h"

namespace self_check {

enum class Setting : std::uint8_t {
  as_in_a_shop,  // by kind of finding
  every_second,  // each with one chance in two
  everything,
};

/// So many of 100 findings of a kind are known when a job is ranked, each by itself; what a scan
/// tool gives, together: in so many of 100 jobs. Common practice, no source; chosen so that it
/// comes to half of all findings.
struct KnownShare {
  Kind kind;
  double share;
};
inline constexpr std::array known_shares = {
    KnownShare{Kind::told_of_all, 0.80},
    KnownShare{Kind::told_of_one, 0.50},
    KnownShare{Kind::seen, 0.40},
    KnownShare{Kind::on_lift, 0.40},
    KnownShare{Kind::opened, 0.10},
    KnownShare{Kind::check_result, 0.05},
    KnownShare{Kind::codes, 0.80},
    KnownShare{Kind::values, 0.60},
    KnownShare{Kind::earlier_values, 0.25},  // and only where the values are read
    KnownShare{Kind::log, 0.20},
};

/// Per ground finding whether anybody would know it.
[[nodiscard]] std::vector<bool> draw_known(const std::vector<std::optional<Kind>>& kinds,
                                           Setting setting, const History& history, Random& random);

/// Takes out of `known` what the `at most one` lists leave unsaid. Says whether two of one list
/// were drawn.
bool name_one_of_each_list(const GroundRules& ground, const DrawnJob& job, std::vector<bool>& known,
                           Random& random);

[[nodiscard]] std::vector<Observation> observations(const DrawnJob& job,
                                                    const std::vector<bool>& known);

}  // namespace self_check
