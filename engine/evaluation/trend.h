// How a reading develops over the odometer.
#pragma once

#include <optional>
#include <span>
#include <vector>

namespace slipcase::evaluation {

struct TrendPoint {
  double odometer = 0.0;
  double value = 0.0;
};

/// The middle value, or the mean of the two in the middle; `values` must not be empty.
[[nodiscard]] double median(std::span<double> values);

/// Median of the slopes of all pairs with different odometers (H. Theil 1950, P. K. Sen 1968);
/// nothing with fewer than three different odometers.
[[nodiscard]] std::optional<double> theil_sen_slope(std::span<const TrendPoint> points);

/// Where a line of this slope stands at odometer 0: the median of what it leaves of the points.
/// (The other convention, median value less slope times median odometer, need not pass through the
/// middle of the points.) `points` must not be empty.
[[nodiscard]] double line_offset(std::span<const TrendPoint> points, double slope);

struct Step {
  std::size_t cut = 0;  // the first point behind it
  double before = 0.0;  // medians of the two sides
  double after = 0.0;

  [[nodiscard]] double height() const { return after - before; }
};

/// The step of a series, oldest point first: it is cut where the distances of all points from the
/// median of their side add up to least. None where a straight line (Theil-Sen slope, median
/// offset) leaves no larger distances: a ramp is no step; and none with fewer than three different
/// odometers.
[[nodiscard]] std::optional<Step> find_step(std::span<const TrendPoint> points);

/// Its height, 0 where there is none; nothing with fewer than three different odometers.
[[nodiscard]] std::optional<double> step_height(std::span<const TrendPoint> points);

}  // namespace slipcase::evaluation
