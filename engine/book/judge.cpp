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

/// The rise at `cut` goes on, or went on already, from one visit to the next.
bool is_ramp(Points points, std::size_t cut, double least) {
  const auto change = [&](std::size_t i) { return points[i].value - points[i - 1].value; };
  const double sign = change(cut) > 0.0 ? 1.0 : -1.0;
  const auto same_way = [&](std::size_t i) { return sign * change(i) >= least; };
  return same_way(cut) &&
         ((cut > 1 && same_way(cut - 1)) || (cut + 1 < points.size() && same_way(cut + 1)));
}

/// The cuts within [from, to) of `points`.
void cuts_of(Points points, std::size_t from, std::size_t to, double least,
             std::vector<std::size_t>& list) {
  const auto step = evaluation::find_step(points.subspan(from, to - from));
  if (!step || std::abs(step->height()) < least) return;
  const std::size_t cut = from + step->cut;
  const Points before = points.subspan(from, cut - from);
  const Points after = points.subspan(cut, to - cut);
  if (is_ramp(points, cut, least) || !is_calm(before, least) || !is_calm(after, least)) return;
  // Of one value alone only its own jump can be believed, not its distance from all others.
  const bool alone = before.size() == 1 || after.size() == 1;
  if (alone && std::abs(after.front().value - before.back().value) < least) return;
  cuts_of(points, from, cut, least, list);
  list.push_back(cut);
  cuts_of(points, cut, to, least, list);
}

double middle_of(Points points) {
  std::vector<double> values;
  for (const TrendPoint& point : points) values.push_back(point.value);
  return evaluation::median(values);
}

/// Each side of a cut reaches to the next cut only.
std::vector<FoundStep> steps_at(Points points, const std::vector<std::size_t>& cuts) {
  std::vector<FoundStep> list;
  for (std::size_t i = 0; i < cuts.size(); ++i) {
    const std::size_t from = i == 0 ? 0 : cuts[i - 1];
    const std::size_t to = i + 1 == cuts.size() ? points.size() : cuts[i + 1];
    const Points before = points.subspan(from, cuts[i] - from);
    const Points after = points.subspan(cuts[i], to - cuts[i]);
    const bool confirmed = before.size() > 1 && after.size() > 1;
    const double height = confirmed ? middle_of(after) - middle_of(before)
                                    : after.front().value - before.back().value;
    list.push_back({cuts[i], height, confirmed});
  }
  return list;
}

double run_of(Points points) { return points.back().odometer - points.front().odometer; }

std::size_t newer_half(Points points) { return points.size() - points.size() / 2 - 1; }

/// The newer half is steeper than the older by more than scatter, and it leads away from zero.
bool bends(Points points, double slope, double least) {
  const Points older = points.first(points.size() / 2 + 1);
  const Points newer = points.subspan(newer_half(points));
  const auto before = evaluation::theil_sen_slope(older);
  const auto after = evaluation::theil_sen_slope(newer);
  if (!before || !after) return false;
  const double sign = slope > 0.0 ? 1.0 : -1.0;
  const bool away = sign * points.back().value > 0.0;
  return away && sign * (*after - *before) * run_of(newer) >= least;
}

/// A quiet older half hides from the slope of all what the newer half does. Three values have a
/// slope soon, so the newest must have left zero by more than scatter.
bool bends_late(Points points, const Scatter& scatter) {
  if (std::abs(points.back().value) < scatter.least_difference) return false;
  const auto newer = fit(points.subspan(newer_half(points)), scatter);
  return newer && newer->moved && bends(points, newer->pairs.slope, scatter.least_difference);
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
  const double middle = middle_of(points);
  return std::ranges::all_of(
      points, [&](const TrendPoint& point) { return std::abs(point.value - middle) < least; });
}

TrendShape without_slope(Points points, const Scatter& scatter) {
  const bool three = evaluation::theil_sen_slope(points).has_value();
  return three && run_of(points) < scatter.least_run ? TrendShape::too_near : TrendShape::too_few;
}

TrendShape shape_of(Points points, const Judged& judged, const Scatter& scatter) {
  const double least = scatter.least_difference;
  if (!judged.steps.empty()) return TrendShape::step;
  if (!judged.slope) return without_slope(points, scatter);
  if (judged.slope->moved) {
    if (bends(points, judged.slope->pairs.slope, least)) return TrendShape::bending;
    return judged.slope->pairs.slope > 0.0 ? TrendShape::rising : TrendShape::falling;
  }
  if (swings(points, least)) return TrendShape::disorder;
  if (bends_late(points, scatter)) return TrendShape::bending;
  return within_scatter(points, least) ? TrendShape::flat : TrendShape::unclear;
}

}  // namespace

std::vector<FoundStep> find_steps(Points points, double least_difference) {
  std::vector<std::size_t> cuts;
  cuts_of(points, 0, points.size(), least_difference, cuts);
  std::vector<FoundStep> list = steps_at(points, cuts);
  // Seen from the next cut only, a step may be no more than scatter.
  const auto small = [&](const FoundStep& step) {
    return std::abs(step.height) < least_difference;
  };
  for (auto one = std::ranges::find_if(list, small); one != list.end();
       one = std::ranges::find_if(list, small)) {
    cuts.erase(cuts.begin() + (one - list.begin()));
    list = steps_at(points, cuts);
  }
  return list;
}

std::optional<FittedSlope> fit(Points points, const Scatter& scatter) {
  const auto pairs = evaluation::slope_interval(points);
  if (!pairs || run_of(points) < scatter.least_run) return std::nullopt;
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
  judged.shape = shape_of(points, judged, scatter);
  if (judged.shape == TrendShape::bending) {
    const std::size_t from = newer_half(points);
    if (const auto newer = fit(points.subspan(from), scatter)) {
      judged.fit_from = from;
      judged.slope = newer;
    }
  }
  return judged;
}

}  // namespace slipcase::book
