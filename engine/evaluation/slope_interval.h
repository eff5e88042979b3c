// How well the readings of a series pin its slope down.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "evaluation/trend.h"

namespace slipcase::evaluation {

/// Two of the slopes of all pairs, the same number of places from either end of their order.
struct SlopeInterval {
  double slope = 0.0;  // Theil-Sen
  double low = 0.0;
  double high = 0.0;
  /// In how many series like this one it holds the true slope, at least. Below what was asked for
  /// where even all pairs together do not reach it: 2 of 3 with three readings.
  double confidence = 0.0;
  std::size_t pairs = 0;
};

/// P. K. Sen, JASA 63 (1968) 1379-1389: the slopes that Kendall's test would not refuse. Up to
/// `most_exact` points the test's own distribution is used, beyond its normal approximation (his
/// formula 2.6). Odometers that are equal are allowed for; equal values make it wider, never
/// narrower than asked for. Nothing with fewer than three different odometers.
[[nodiscard]] std::optional<SlopeInterval> slope_interval(std::span<const TrendPoint> points,
                                                          double confidence = 0.95);

inline constexpr std::size_t most_exact = 50;

/// How many of the pairs run against the order, by chance alone: the probability of each number.
/// `groups`: how many points share each odometer; points of one group make no pair. (Kendall's
/// distribution where all are 1, Mann and Whitney's with two groups.)
[[nodiscard]] std::vector<double> discordant_pairs(std::span<const std::size_t> groups);

/// How far a slope may be off because single readings of the same thing scatter: twice the standard
/// error of a straight line. It holds also where a few readings stand on a line by chance and the
/// pairs differ by nothing. 0 where the odometers do not differ.
[[nodiscard]] double slope_scatter(std::span<const TrendPoint> points, double scatter);

}  // namespace slipcase::evaluation
