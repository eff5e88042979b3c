#include "book/pace.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace slipcase::book {

namespace {

using evaluation::TrendPoint;
using PacePoints = std::span<const TrendPoint>;

/// The last point at least `least_run` before `at`; where all are nearer the first.
std::optional<std::size_t> point_before(PacePoints points, std::size_t at, double least_run) {
  if (at == 0) return std::nullopt;
  for (std::size_t i = at; i-- > 0;)
    if (points[at].odometer - points[i].odometer >= least_run) return i;
  return 0;
}

NewestChange between(const TrendPoint& from, const TrendPoint& to) {
  return {to.value - from.value, to.odometer - from.odometer};
}

class PaceTeller {
 public:
  PaceTeller(PacePoints points, const Judged& judged, const PaceLimits& limits)
      : points_(points),
        judged_(judged),
        limits_(limits),
        sign_(points.back().value > 0.0 ? 1.0 : -1.0),
        limit_(sign_ > 0.0 ? limits.high : -limits.low) {}

  [[nodiscard]] Pace run() const {
    const bool near_zero = std::abs(points_.back().value) < limits_.least_difference;
    if (near_zero || !std::isfinite(limit_)) return Pace::slow;
    const double once = rise();
    if (once > fast_share * limit_) return Pace::fast;
    if (rises_twice()) return Pace::fast_twice;
    const double slope = slope_rise();
    if (slope > fast_twice_share * limit_) return Pace::steep;
    return std::max(once, slope) > watch_share * limit_ ? Pace::watch : Pace::slow;
  }

 private:
  /// From one routine visit to the next, away from zero.
  [[nodiscard]] double per_visit(const NewestChange& change) const {
    const bool short_run = change.run < limits_.least_run;
    return sign_ * change.change * (short_run ? 1.0 : limits_.routine / change.run);
  }

  /// The newest change, if two readings of the same thing cannot differ by it. Of values that go up
  /// and down only what leads beyond all before.
  [[nodiscard]] double rise() const {
    auto change = newest_change(points_, limits_.least_run);
    if (!change) return 0.0;
    if (judged_.shape == TrendShape::disorder) change->change = sign_ * beyond_all_before();
    return sign_ * change->change >= limits_.least_difference ? per_visit(*change) : 0.0;
  }

  [[nodiscard]] double beyond_all_before() const {
    double least = sign_ * (points_.back().value - points_.front().value);
    for (const TrendPoint& point : points_.first(points_.size() - 1))
      least = std::min(least, sign_ * (points_.back().value - point.value));
    return least;
  }

  [[nodiscard]] bool rises_twice() const {
    const std::size_t last = points_.size() - 1;
    const auto middle = point_before(points_, last, limits_.least_run);
    if (!middle) return false;
    const auto first = point_before(points_, *middle, limits_.least_run);
    if (!first) return false;
    const NewestChange newer = between(points_[*middle], points_[last]);
    const NewestChange older = between(points_[*first], points_[*middle]);
    if (newer.run < limits_.least_run || older.run < limits_.least_run) return false;
    const double least = fast_twice_share * limit_;
    return per_visit(newer) > least && per_visit(older) > least &&
           sign_ * (newer.change + older.change) >= limits_.least_difference;
  }

  [[nodiscard]] double slope_rise() const {
    if (!judged_.slope || !judged_.slope->moved) return 0.0;
    return sign_ * judged_.slope->pairs.slope * limits_.routine;
  }

  PacePoints points_;
  const Judged& judged_;
  const PaceLimits& limits_;
  double sign_;
  double limit_;
};

}  // namespace

std::optional<NewestChange> newest_change(PacePoints points, double least_run) {
  if (points.size() < 2) return std::nullopt;
  const std::size_t last = points.size() - 1;
  return between(points[*point_before(points, last, least_run)], points[last]);
}

bool changed(PacePoints points, double least_difference) {
  for (std::size_t i = 1; i < points.size(); ++i)
    if (std::abs(points[i].value - points[i - 1].value) >= least_difference) return true;
  return false;
}

bool is_near_limit(double value, const PaceLimits& limits) {
  const bool inside = value < limits.high && value > limits.low;
  return inside && (value > limits.high - limits.least_difference ||
                    value < limits.low + limits.least_difference);
}

Pace pace_of(PacePoints points, const Judged& judged, const PaceLimits& limits) {
  return points.empty() ? Pace::slow : PaceTeller(points, judged, limits).run();
}

std::optional<double> ahead_at_pace(PacePoints points, const PaceLimits& limits) {
  const auto change = newest_change(points, limits.least_run);
  if (!change || change->run < limits.least_run) return std::nullopt;
  const double value = points.back().value;
  const bool away = change->change * value > 0.0;
  const double limit = value > 0.0 ? limits.high : limits.low;
  if (!away || !std::isfinite(limit)) return std::nullopt;
  return std::max((limit - value) * change->run / change->change, 0.0);
}

}  // namespace slipcase::book
