// Where a line through a series reaches a limit, as a range.
#pragma once

#include <optional>
#include <span>

#include "evaluation/trend.h"

namespace slipcase::evaluation {

struct SlopeRange {
  double low = 0.0;
  double high = 0.0;
};

struct Crossing {
  double earliest = 0.0;  // odometers; may lie before the newest point
  double latest = 0.0;
};

/// The steepest line, raised by `level_error`, and the flattest, lowered by it, each with the
/// median of what it leaves of the points as its offset. Nothing unless all slopes of the range
/// lead to the side of the limit. `points` must not be empty.
[[nodiscard]] std::optional<Crossing> limit_crossing(std::span<const TrendPoint> points,
                                                     SlopeRange slopes, double limit,
                                                     double level_error);

}  // namespace slipcase::evaluation
