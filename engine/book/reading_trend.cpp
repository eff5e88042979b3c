#include "book/reading_trend.h"

#include <algorithm>
#include <cmath>

#include <fmt/core.h>

#include "book/judge.h"
#include "book/pace.h"

namespace slipcase::book {

namespace {

using evaluation::TrendPoint;
using grounding::GroundReading;

/// The unit in which people write the limit of a reading.
const units::Unit& unit_of(const profile::ReadingBounds& bounds,
                           const units::Dimension& dimension) {
  const std::string text = units::to_text({bounds.high_limit, dimension});
  const units::Unit* unit = units::find_unit(text.substr(text.find(' ') + 1));
  return unit != nullptr && unit->dimension == dimension ? *unit : units::all_units().front();
}

class ReadingTeller {
 public:
  ReadingTeller(const History& history, GroundReading reading, const DistanceScale& scale)
      : history_(history),
        reading_(reading),
        bounds_(*history.ground.bounds[reading.at()]),
        declared_(history.ground.rules->readings.at(
            history.ground.readings.origins[reading.at()].declaration)),
        unit_(unit_of(bounds_, declared_.dimension)),
        distance_(scale.unit),
        slope_distance_(scale.slope_distance) {}

  std::optional<ReadingTrend> run(const LookDistances& looks) {
    const std::vector<Stretch> list = stretches(history_, reading_);
    const bool any = std::ranges::any_of(list, [](const Stretch& s) { return !s.values.empty(); });
    if (!any) return std::nullopt;
    describe();
    for (const Stretch& stretch : list) trend_.segments.push_back(segment(stretch));
    stand(list.back());
    tell_distance(list.back());
    note(list.back());
    judge_look(trend_, looks, pace(list.back(), looks));
    return std::move(trend_);
  }

 private:
  void describe() {
    const auto& origin = history_.ground.readings.origins[reading_.at()];
    trend_.id = history_.ground.name_of(reading_);
    trend_.kind = declared_.header.name;
    if (origin.member && declared_.header.scope)
      trend_.member = history_.ground.rules->unit.scope(*declared_.header.scope)
                          .members.at(origin.member->at());
    trend_.unit = unit_.symbol;
    trend_.low_limit = number(bounds_.low_limit);
    trend_.high_limit = number(bounds_.high_limit);
    trend_.low_watch = number(bounds_.low_watch);
    trend_.high_watch = number(bounds_.high_watch);
    trend_.scatter = bounds_.scatter * unit_.denominator / unit_.numerator;
  }

  [[nodiscard]] double number(double base) const {
    return units::in_unit({base, declared_.dimension}, unit_);
  }
  [[nodiscard]] double distance(double base) const {
    return units::in_unit({base, distance_.dimension}, distance_);
  }
  [[nodiscard]] bool miles() const { return distance_.symbol == "miles"; }

  /// Of a slope in base units.
  [[nodiscard]] double per_distance(double slope) const {
    return slope * (unit_.denominator / unit_.numerator) *
           (distance_.numerator / distance_.denominator) * slope_distance_;
  }

  [[nodiscard]] TrendValue told(const SeriesValue& value) const {
    TrendValue told;
    told.at = says_when(history_.facts.snapshots[value.snapshot].when, miles());
    if (value.odometer) told.odometer = distance(*value.odometer);
    told.value = number(value.value);
    told.says = units::to_text({value.value, declared_.dimension}, unit_);
    told.aside = value.aside;
    return told;
  }

  /// The values that count, oldest first.
  [[nodiscard]] static std::vector<SeriesValue> used(const Stretch& stretch) {
    std::vector<SeriesValue> list;
    std::ranges::copy_if(stretch.values, std::back_inserter(list),
                         [](const SeriesValue& value) { return value.aside.empty(); });
    if (list.size() > most_values)
      list.erase(list.begin(), list.end() - static_cast<std::ptrdiff_t>(most_values));
    return list;
  }
  [[nodiscard]] static std::vector<TrendPoint> points(const std::vector<SeriesValue>& values) {
    std::vector<TrendPoint> list;
    for (const SeriesValue& value : values) list.push_back({*value.odometer, value.value});
    return list;
  }
  [[nodiscard]] double base_distance(double number) const {
    return number * distance_.numerator / distance_.denominator;
  }
  [[nodiscard]] Scatter scatter() const {
    return {bounds_.scatter, bounds_.least_difference(),
            base_distance(look_distances(miles()).least_run)};
  }

  [[nodiscard]] TrendSegment segment(const Stretch& stretch) const {
    TrendSegment segment;
    segment.split_by = stretch.split_by;
    segment.since = stretch.since;
    segment.split_surely = stretch.split_surely;
    if (stretch.split_at) segment.split_at = distance(*stretch.split_at);
    for (const SeriesValue& value : stretch.values) segment.values.push_back(told(value));
    const std::vector<SeriesValue> values = used(stretch);
    segment.used = values.size();
    if (values.empty()) return segment;
    const std::vector<TrendPoint> list = points(values);
    const Judged judged = judge(list, scatter());
    segment.shape = judged.shape;
    for (const FoundStep& step : judged.steps)
      segment.steps.push_back({told(values[step.cut - 1]).at, told(values[step.cut]).at,
                               step.height * unit_.denominator / unit_.numerator, step.confirmed});
    segment.changed = judged.shape == TrendShape::disorder || judged.shape == TrendShape::unclear ||
                      changed(list, bounds_.least_difference());
    if (judged.slope) segment.slope = slope(*judged.slope, list, judged.fit_from);
    return segment;
  }

  [[nodiscard]] TrendSlope slope(const FittedSlope& fitted, const std::vector<TrendPoint>& list,
                                 std::size_t from) const {
    TrendSlope slope;
    slope.value = per_distance(fitted.pairs.slope);
    slope.low = per_distance(fitted.range.low);
    slope.high = per_distance(fitted.range.high);
    slope.pairs_low = per_distance(fitted.pairs.low);
    slope.pairs_high = per_distance(fitted.pairs.high);
    slope.from = distance(list[from].odometer);
    slope.confidence = fitted.pairs.confidence;
    slope.at_odometer_0 =
        number(evaluation::line_offset(std::span(list).subspan(from), fitted.pairs.slope));
    slope.moved = fitted.moved;
    return slope;
  }

  /// Where the newest value stands to the lines.
  void stand(const Stretch& newest) {
    if (newest.values.empty() || !newest.values.back().aside.empty()) return;
    const double value = newest.values.back().value;
    trend_.newest = told(newest.values.back());
    if (value >= bounds_.high_watch || value <= bounds_.low_watch)
      trend_.range = ReadingRange::beyond_watch;
    if (value >= bounds_.high_limit || value <= bounds_.low_limit)
      trend_.range = ReadingRange::beyond_limit;
  }

  void tell_distance(const Stretch& newest) {
    const std::vector<SeriesValue> values = used(newest);
    if (!trend_.newest) {
      trend_.no_distance_because =
          newest.values.empty() ? "nothing was read since" : "its newest value is set aside";
      return;
    }
    if (trend_.range == ReadingRange::beyond_limit) {
      trend_.no_distance_because = "it is there";
      return;
    }
    const std::vector<TrendPoint> all = points(values);
    const Judged judged = judge(all, scatter());
    const auto behind = std::span(all).subspan(judged.fit_from);
    trend_.no_distance_because = why_no_distance(judged, behind);
    if (trend_.no_distance_because.empty()) set_distance(*judged.slope, behind);
  }

  [[nodiscard]] std::string why_no_distance(const Judged& judged,
                                            std::span<const TrendPoint> behind) const {
    if (!judged.slope && is_too_near(behind)) return too_near(behind);
    if (!judged.slope)
      return judged.fit_from > 0 ? "fewer than three values behind the jump"
                                 : "fewer than three values at different odometers";
    if (!judged.slope->moved) return "it does not move by more than readings scatter";
    const double slope = judged.slope->pairs.slope;
    if (!std::isfinite(slope > 0.0 ? bounds_.high_limit : bounds_.low_limit))
      return "the profile has no limit on that side";
    const bool back = (slope > 0.0) != (behind.back().value > 0.0);
    if (back && std::abs(behind.back().value) >= bounds_.least_difference())
      return "it comes back towards zero";
    return {};
  }

  [[nodiscard]] bool is_too_near(std::span<const TrendPoint> behind) const {
    const bool three = evaluation::theil_sen_slope(behind).has_value();
    return three && behind.back().odometer - behind.front().odometer < scatter().least_run;
  }
  [[nodiscard]] std::string too_near(std::span<const TrendPoint> behind) const {
    return fmt::format("its values lie within {:.0f} {}, and below {:.0f} there is no trend",
                       distance(behind.back().odometer - behind.front().odometer), distance_.symbol,
                       look_distances(miles()).least_run);
  }

  [[nodiscard]] PaceLimits pace_limits(const LookDistances& looks) const {
    return {bounds_.low_limit, bounds_.high_limit, bounds_.least_difference(),
            base_distance(looks.routine), base_distance(looks.least_run)};
  }

  /// Of values that may be used; two are enough, and for the distance to the limit one.
  [[nodiscard]] PaceLook pace(const Stretch& newest, const LookDistances& looks) const {
    if (!trend_.newest) return {};
    const PaceLimits limits = pace_limits(looks);
    const std::vector<TrendPoint> list = points(used(newest));
    PaceLook told = pace_says(list, pace_of(list, judge(list, scatter()), limits), limits);
    const bool inside = trend_.range != ReadingRange::beyond_limit;
    const auto ahead = ahead_at_pace(list, limits);
    if (told.look == Look::act && inside && ahead) told.ahead = distance(*ahead);
    if (is_near_limit(list.back().value, limits)) {
      told.look = Look::act;
      told.because = "is within scatter of its limit";
    }
    return told;
  }

  [[nodiscard]] PaceLook pace_says(std::span<const TrendPoint> list, Pace pace,
                                   const PaceLimits& limits) const {
    switch (pace) {
      case Pace::slow:
        break;
      case Pace::watch:
        return {Look::watch, "moves by more than a tenth of its limit from visit to visit", {}};
      case Pace::steep:
        return {Look::act, "moves by more than a sixth of its limit from visit to visit", {}};
      case Pace::fast:
        return {Look::act, fast_says(list, limits), {}};
      case Pace::fast_twice:
        return {Look::act, "moved twice running by more than a sixth of its limit per visit", {}};
    }
    return {};
  }

  [[nodiscard]] std::string fast_says(std::span<const TrendPoint> list,
                                      const PaceLimits& limits) const {
    const auto change = newest_change(list, limits.least_run);
    return fmt::format("moved by {:+.0f} {} in the last {:.0f} {}, fast for its limit",
                       change->change * unit_.denominator / unit_.numerator, unit_.symbol,
                       distance(change->run), distance_.symbol);
  }

  void set_distance(const FittedSlope& fitted, std::span<const TrendPoint> behind) {
    const double limit = fitted.pairs.slope > 0.0 ? bounds_.high_limit : bounds_.low_limit;
    const double level_error =
        2.0 * bounds_.scatter / std::sqrt(static_cast<double>(behind.size()));
    const auto crossing = evaluation::limit_crossing(behind, fitted.range, limit, level_error);
    if (!crossing) return;
    const double now = behind.back().odometer;
    const double farthest = most_ahead * (now - behind.front().odometer);
    LimitDistance found;
    found.limit = number(limit);
    found.earliest = distance(std::max(crossing->earliest - now, 0.0));
    if (crossing->latest - now <= farthest)
      found.latest = distance(std::max(crossing->latest - now, 0.0));
    if (crossing->earliest - now > farthest) {
      trend_.no_distance_because = fmt::format(
          "it is farther off than {:.0f} times the distance it was seen over", most_ahead);
      return;
    }
    trend_.to_limit = found;
  }

  void note(const Stretch& newest) {
    const std::vector<SeriesValue> values = used(newest);
    if (values.size() < 2) return;
    const SeriesValue& last = values.back();
    const bool same = last.value == values[values.size() - 2].value;
    if (trend_.range == ReadingRange::beyond_limit && same)
      trend_.notes.emplace_back(
          "stood at the same end twice running: what it needs is more than it shows");
    const bool still = std::ranges::all_of(
        values, [&](const SeriesValue& value) { return value.value == last.value; });
    const double run = distance(*last.odometer - *values.front().odometer);
    if (still && values.size() >= 3 && run >= look_distances(miles()).routine)
      trend_.notes.emplace_back("not moved by one count: is it still learning?");
  }

  /// No vehicle has more looks; the cost grows with the square.
  static constexpr std::size_t most_values = 200;

  const History& history_;
  GroundReading reading_;
  const profile::ReadingBounds& bounds_;
  const rulebase::Reading& declared_;
  const units::Unit& unit_;
  const units::Unit& distance_;
  double slope_distance_;
  ReadingTrend trend_;
};

}  // namespace

std::optional<ReadingTrend> reading_trend(const History& history, GroundReading reading,
                                          const DistanceScale& scale, const LookDistances& looks) {
  return ReadingTeller(history, reading, scale).run(looks);
}

}  // namespace slipcase::book
