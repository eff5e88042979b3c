#include "book/judge.h"

#include <algorithm>
#include <cmath>

namespace slipcase::book {

namespace {

using evaluation::TrendPoint;
using Points = std::span<const TrendPoint>;

void steps_of(Points points, std::size_t first, double least, std::vector<FoundStep>& list) {
  const auto step = evaluation::find_step(points);
  if (!step || std::abs(step->height()) < least) return;
  const std::size_t behind = points.size() - step->cut;
  steps_of(points.first(step->cut), first, least, list);
  list.push_back({first + step->cut, step->height(), step->cut > 1 && behind > 1});
  steps_of(points.subspan(step->cut), first + step->cut, least, list);
}

double run_of(Points points) { return points.back().odometer - points.front().odometer; }

/// The newer half is steeper than the older by more than scatter, and it leads away from zero.
bool bends(Points points, const FittedSlope& all, double least) {
  const std::size_t half = points.size() / 2;
  const Points older = points.first(half + 1);
  const Points newer = points.subspan(points.size() - half - 1);
  const auto before = evaluation::theil_sen_slope(older);
  const auto after = evaluation::theil_sen_slope(newer);
  if (!before || !after) return false;
  const double sign = all.pairs.slope > 0.0 ? 1.0 : -1.0;
  const bool away = sign * points.back().value > 0.0;
  return away && sign * (*after - *before) * run_of(newer) >= least;
}

/// At least two changes between neighbours beyond scatter, of opposite directions.
bool swings(Points points, double least) {
  bool up = false;
  bool down = false;
  for (std::size_t i = 1; i < points.size(); ++i) {
    const double change = points[i].value - points[i - 1].value;
    up = up || change >= least;
    down = down || change <= -least;
  }
  return up && down;
}

bool within_scatter(Points points, double least) {
  std::vector<double> values;
  for (const TrendPoint& point : points) values.push_back(point.value);
  const double middle = evaluation::median(values);
  return std::ranges::all_of(values, [&](double v) { return std::abs(v - middle) < least; });
}

TrendShape shape_of(Points points, const Judged& judged, double least) {
  if (!judged.steps.empty()) return TrendShape::step;
  if (!judged.slope) return TrendShape::too_few;
  if (judged.slope->moved) {
    if (bends(points, *judged.slope, least)) return TrendShape::bending;
    return judged.slope->pairs.slope > 0.0 ? TrendShape::rising : TrendShape::falling;
  }
  if (within_scatter(points, least)) return TrendShape::flat;
  return swings(points, least) ? TrendShape::disorder : TrendShape::unclear;
}

}  // namespace

std::vector<FoundStep> find_steps(Points points, double least_difference) {
  std::vector<FoundStep> list;
  steps_of(points, 0, least_difference, list);
  return list;
}

std::optional<FittedSlope> fit(Points points, const Scatter& scatter) {
  const auto pairs = evaluation::slope_interval(points);
  if (!pairs) return std::nullopt;
  const double more = evaluation::slope_scatter(points, scatter.one);
  FittedSlope fitted{*pairs, {}, false};
  fitted.range.low = std::min(pairs->low, pairs->slope - more);
  fitted.range.high = std::max(pairs->high, pairs->slope + more);
  const bool one_side = fitted.range.low > 0.0 || fitted.range.high < 0.0;
  fitted.moved = one_side && std::abs(pairs->slope * run_of(points)) >= scatter.least_difference;
  return fitted;
}

Judged judge(Points points, const Scatter& scatter) {
  Judged judged;
  judged.steps = find_steps(points, scatter.least_difference);
  if (!judged.steps.empty()) judged.fit_from = judged.steps.back().cut;
  judged.slope = fit(points.subspan(judged.fit_from), scatter);
  judged.shape = shape_of(points, judged, scatter.least_difference);
  return judged;
}

}  // namespace slipcase::book
