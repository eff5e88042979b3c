// What a stretch of values looks like: shape, steps, slope.
#pragma once

#include <span>
#include <vector>

#include "evaluation/limit_crossing.h"
#include "evaluation/slope_interval.h"
#include "evaluation/trend.h"
#include "slipcase/trend.h"

namespace slipcase::book {

/// How much a reading scatters, from the profile (ReadingBounds).
struct Scatter {
  double one = 0.0;               // one reading
  double least_difference = 0.0;  // two readings of the same thing differ by less
  double least_run = 0.0;         // values over less distance have no slope
};

struct FoundStep {
  std::size_t cut = 0;  // the first point behind it
  /// From the middle of the values since the step before it to that of those up to the next one;
  /// with one value only on a side from one neighbour to the other.
  double height = 0.0;
  bool confirmed = false;  // at least two points on both sides
};

/// The slope with the wider of two intervals at either end: what the pairs of readings give, and
/// what the known scatter of single readings allows.
struct FittedSlope {
  evaluation::SlopeInterval pairs;
  evaluation::SlopeRange range;
  bool moved = false;
};

struct Judged {
  TrendShape shape = TrendShape::too_few;
  std::vector<FoundStep> steps;  // in order
  /// The first point that the slope is drawn through: behind the last step, of a bending series in
  /// the middle, because a line through all of it would come too late.
  std::size_t fit_from = 0;
  std::optional<FittedSlope> slope;
};

/// `points` oldest first.
[[nodiscard]] Judged judge(std::span<const evaluation::TrendPoint> points, const Scatter& scatter);

/// All steps of more than scatter, each side of one looked at again. What goes on beyond scatter
/// from one visit to the next is a ramp and no step.
[[nodiscard]] std::vector<FoundStep> find_steps(std::span<const evaluation::TrendPoint> points,
                                                double least_difference);

/// Nothing with fewer than three different odometers, or over less than `least_run`.
[[nodiscard]] std::optional<FittedSlope> fit(std::span<const evaluation::TrendPoint> points,
                                             const Scatter& scatter);

}  // namespace slipcase::book
