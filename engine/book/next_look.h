// When to read the values again. The distances are common practice, no source; so are the lines
// between quiet, watch and act (docs/trends.md).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "slipcase/trend.h"

namespace slipcase::book {

/// In the unit of the vehicle's odometer.
struct LookDistances {
  double routine = 0.0;  // quiet: the next routine service
  double watch_from = 0.0, watch_to = 0.0;
  double act_from = 0.0, act_to = 0.0;
  double after_repair = 0.0;
  double least_run = 0.0;  // values over less distance are no trend
};
[[nodiscard]] LookDistances look_distances(bool miles);

/// What the newest values ask for by themselves, with or without a trend.
struct PaceLook {
  Look look = Look::quiet;
  std::string because;
  std::optional<double> ahead;  // ReadingTrend::ahead_at_pace
};

/// Sets `look` and `look_because` of one reading.
void judge_look(ReadingTrend& reading, const LookDistances& distances, const PaceLook& pace = {});

/// Work after which nothing was read far enough on.
struct RecentWork {
  std::string says;
  double odometer = 0.0;
};

/// The soonest of all readings, never later than half-way to the earliest limit, and soon after
/// work. `now`: the newest odometer; `read_at`: of the newest values.
[[nodiscard]] NextLook next_look(const std::vector<ReadingTrend>& readings,
                                 const std::optional<RecentWork>& work,
                                 const LookDistances& distances, double now, double read_at);

}  // namespace slipcase::book
