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

/// The height of a step, oldest point first: the series is cut where the distances of all points
/// from the median of their side add up to least, and the step is the difference of the medians.
/// 0 where a straight line (Theil-Sen slope, median offset) leaves no larger distances: a ramp is
/// no step. Nothing with fewer than three different odometers.
[[nodiscard]] std::optional<double> step_height(std::span<const TrendPoint> points);

}  // namespace slipcase::evaluation
