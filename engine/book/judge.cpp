#include "book/judge.h"

#include <algorithm>
#include <cmath>

namespace slipcase::book {

namespace {

using evaluation::TrendPoint;
using Points = std::span<const TrendPoint>;

/// Values beside a step stand still, as values go: at least half of the changes between neighbours
/// are scatter.
bool is_calm(Points points, double least) {
  std::vector<double> changes;
  for (std::size_t i = 1; i < points.size(); ++i)
    changes.push_back(std::abs(points[i].value - points[i - 1].value));
  return changes.empty() || evaluation::median(changes) < least;
}

void steps_of(Points points, std::size_t first, double least, std::vector<FoundStep>& list) {
  const auto step = evaluation::find_step(points);
  if (!step || std::abs(step->height()) < least) return;
  const Points before = points.first(step->cut);
  const Points after = points.subspan(step->cut);
  if (!is_calm(before, least) || !is_calm(after, least)) return;
  // Of one value alone only its own jump can be believed, not its distance from all others.
  const bool confirmed = before.size() > 1 && after.size() > 1;
  if (!confirmed && std::abs(after.front().value - before.back().value) < least) return;
  steps_of(before, first, least, list);
  list.push_back({first + step->cut, step->height(), confirmed});
  steps_of(after, first + step->cut, least, list);
}

double run_of(Points points) { return points.back().odometer - points.front().odometer; }

std::size_t newer_half(Points points) { return points.size() - points.size() / 2 - 1; }

/// The newer half is steeper than the older by more than scatter, and it leads away from zero.
bool bends(Points points, const FittedSlope& all, double least) {
  const Points older = points.first(points.size() / 2 + 1);
  const Points newer = points.subspan(newer_half(points));
  const auto before = evaluation::theil_sen_slope(older);
  const auto after = evaluation::theil_sen_slope(newer);
  if (!before || !after) return false;
  const double sign = all.pairs.slope > 0.0 ? 1.0 : -1.0;
  const bool away = sign * points.back().value > 0.0;
  return away && sign * (*after - *before) * run_of(newer) >= least;
}

/// A third of the changes between neighbours, of both directions, are beyond scatter.
bool swings(Points points, double least) {
  std::size_t up = 0;
  std::size_t down = 0;
  for (std::size_t i = 1; i < points.size(); ++i) {
    const double change = points[i].value - points[i - 1].value;
    up += change >= least ? 1 : 0;
    down += change <= -least ? 1 : 0;
  }
  return up > 0 && down > 0 && (up + down) * 3 + 1 >= points.size();
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
  if (swings(points, least)) return TrendShape::disorder;
  return within_scatter(points, least) ? TrendShape::flat : TrendShape::unclear;
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
  if (judged.shape == TrendShape::bending) {
    judged.fit_from = newer_half(points);
    judged.slope = fit(points.subspan(judged.fit_from), scatter);
  }
  return judged;
}

}  // namespace slipcase::book
