#include "evaluation/slope_interval.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace slipcase::evaluation {

namespace {

std::vector<double> pair_slopes(std::span<const TrendPoint> points) {
  std::vector<double> slopes;
  slopes.reserve(points.size() * (points.size() - 1) / 2);
  for (std::size_t i = 0; i < points.size(); ++i) {
    for (std::size_t j = i + 1; j < points.size(); ++j) {
      const double run = points[j].odometer - points[i].odometer;
      if (run != 0.0) slopes.push_back((points[j].value - points[i].value) / run);
    }
  }
  std::ranges::sort(slopes);
  return slopes;
}

std::vector<std::size_t> groups_of(std::span<const TrendPoint> points) {
  std::vector<double> odometers;
  for (const TrendPoint& point : points) odometers.push_back(point.odometer);
  std::ranges::sort(odometers);
  std::vector<std::size_t> groups;
  for (std::size_t i = 0; i < odometers.size(); ++i) {
    if (i == 0 || odometers[i] != odometers[i - 1]) groups.push_back(0);
    ++groups.back();
  }
  return groups;
}

/// Mann and Whitney: of `placed` points in order and `more` that come behind them, how many pairs
/// run the wrong way. The last of all is one of the `more` (no pair) or of the `placed` (one pair
/// with each of the `more`).
std::vector<double> wrong_pairs(std::size_t placed, std::size_t more) {
  // row[m]: the distribution for m placed and the number of `more` reached so far.
  std::vector<std::vector<double>> row(placed + 1, {1.0});
  for (std::size_t t = 1; t <= more; ++t) {
    for (std::size_t m = 1; m <= placed; ++m) {
      std::vector<double> next(m * t + 1, 0.0);
      const auto share = static_cast<double>(m) / static_cast<double>(m + t);
      for (std::size_t u = 0; u < row[m].size(); ++u) next[u] += (1.0 - share) * row[m][u];
      for (std::size_t u = 0; u < row[m - 1].size(); ++u) next[u + t] += share * row[m - 1][u];
      row[m] = std::move(next);
    }
  }
  return row[placed];
}

std::vector<double> sum_of(const std::vector<double>& a, const std::vector<double>& b) {
  std::vector<double> both(a.size() + b.size() - 1, 0.0);
  for (std::size_t i = 0; i < a.size(); ++i)
    for (std::size_t j = 0; j < b.size(); ++j) both[i + j] += a[i] * b[j];
  return both;
}

/// How many slopes are left out at either end, and how sure the rest is.
struct Ends {
  std::size_t left_out = 0;
  double confidence = 0.0;
};

Ends exact_ends(std::span<const std::size_t> groups, double confidence) {
  // Sums of many rounded terms: what is a hair beyond the level is the level.
  constexpr double hair = 1e-12;
  const std::vector<double> chances = discordant_pairs(groups);
  Ends ends;
  double beyond = chances[0];
  ends.confidence = 1.0 - 2.0 * beyond;
  while (ends.left_out + 1 < chances.size() / 2) {
    beyond += chances[ends.left_out + 1];
    if (2.0 * beyond > 1.0 - confidence + hair) break;
    ++ends.left_out;
    ends.confidence = 1.0 - 2.0 * beyond;
  }
  return ends;
}

/// Where the normal distribution leaves so much on either side; by halving.
double normal_quantile(double confidence) {
  double low = 0.0;
  double high = 40.0;
  for (int i = 0; i < 200; ++i) {
    const double middle = (low + high) / 2.0;
    (std::erf(middle / std::numbers::sqrt2) < confidence ? low : high) = middle;
  }
  return low;
}

Ends normal_ends(std::span<const std::size_t> groups, std::size_t slopes, double confidence) {
  const auto term = [](double n) { return n * (n - 1.0) * (2.0 * n + 5.0); };
  double points = 0.0;
  double ties = 0.0;
  for (const std::size_t group : groups) {
    points += static_cast<double>(group);
    ties += term(static_cast<double>(group));
  }
  const double spread = normal_quantile(confidence) * std::sqrt((term(points) - ties) / 18.0);
  // The half: a whole number of pairs stands for everything nearest to it.
  const double left_out = std::floor((static_cast<double>(slopes) - spread) / 2.0 - 0.5);
  return {left_out > 0.0 ? static_cast<std::size_t>(left_out) : 0, confidence};
}

}  // namespace

std::vector<double> discordant_pairs(std::span<const std::size_t> groups) {
  std::vector<double> chances{1.0};
  std::size_t placed = 0;
  for (const std::size_t group : groups) {
    chances = sum_of(chances, wrong_pairs(placed, group));
    placed += group;
  }
  return chances;
}

std::optional<SlopeInterval> slope_interval(std::span<const TrendPoint> points, double confidence) {
  const auto slope = theil_sen_slope(points);
  if (!slope) return std::nullopt;
  const std::vector<double> slopes = pair_slopes(points);
  const std::vector<std::size_t> groups = groups_of(points);
  const Ends ends = points.size() <= most_exact ? exact_ends(groups, confidence)
                                                : normal_ends(groups, slopes.size(), confidence);
  return SlopeInterval{*slope, slopes[ends.left_out], slopes[slopes.size() - 1 - ends.left_out],
                       ends.confidence, slopes.size()};
}

double slope_scatter(std::span<const TrendPoint> points, double scatter) {
  if (points.empty()) return 0.0;
  double mean = 0.0;
  for (const TrendPoint& point : points) mean += point.odometer;
  mean /= static_cast<double>(points.size());
  double squares = 0.0;
  for (const TrendPoint& point : points) {
    squares += (point.odometer - mean) * (point.odometer - mean);
  }
  return squares > 0.0 ? 2.0 * scatter / std::sqrt(squares) : 0.0;
}

}  // namespace slipcase::evaluation
