#include "drive/moving_values.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/core.h>

#include "units/quantity.h"

namespace slipcase::drive {

namespace {

// Numbers of this file are invented; docs/learning-drive.md tells them.
constexpr double least_distance = 5'000'000.0;  // mm
/// Of the scatter: 10 mbar and 2.5 ms where it is 20 mbar and 5 ms, about what is taken for the
/// steps of a settled value; common practice, no source.
constexpr double settled_step = 0.5;

using evaluation::Order;
using evaluation::ReadingFact;

/// Steps of a geometric approach shrink by the same share each time: with q of it left, the end is
/// b + (c - b) / (1 - q). Nothing where the steps do not shrink, or turn.
std::optional<double> end_of_approach(double a, double b, double c) {
  if (b == a) return std::nullopt;
  const double left = (c - b) / (b - a);
  if (left <= 0.0 || left >= 1.0) return std::nullopt;
  return b + (c - b) / (1.0 - left);
}

/// The same with every point as far off as scatter may have it. An end that runs away on one side
/// has no bound there.
void add_bounds(const std::array<ValuePoint, 3>& last, double scatter, ValueCourse& course) {
  const bool up = last[2].value > last[1].value;
  double low = *course.estimate;
  double high = *course.estimate;
  bool open = false;
  for (unsigned signs = 0; signs < 8; ++signs) {
    std::array<double, 3> moved{};
    for (std::size_t i = 0; i < 3; ++i) {
      const double by = last[i].was_read ? scatter : 0.0;
      moved[i] = last[i].value + ((signs >> i & 1U) != 0 ? by : -by);
    }
    const auto end = end_of_approach(moved[0], moved[1], moved[2]);
    if (end) {
      low = std::min(low, *end);
      high = std::max(high, *end);
    } else if ((moved[2] - moved[1]) * (moved[1] - moved[0]) > 0.0) {
      open = true;  // the steps need not shrink at all
    } else {
      low = std::min(low, moved[2]);
      high = std::max(high, moved[2]);
    }
  }
  if (!open || up) course.low = low;
  if (!open || !up) course.high = high;
}

/// At least two turns, each by more than scatter.
bool is_zigzag(std::span<const ValuePoint> points, double least) {
  std::size_t turns = 0;
  for (std::size_t i = 2; i < points.size(); ++i) {
    const double before = points[i - 1].value - points[i - 2].value;
    const double after = points[i].value - points[i - 1].value;
    if (before * after < 0.0 && std::abs(before) >= least && std::abs(after) >= least) ++turns;
  }
  return turns >= 2;
}

bool is_at_limit(double value, const profile::ReadingBounds& bounds) {
  return value >= bounds.high_limit || value <= bounds.low_limit;
}

template <class Points>
bool all_within(const Points& points, double most) {
  return std::ranges::all_of(points,
                             [&](const ValuePoint& one) { return std::abs(one.value) <= most; });
}

void add_estimate(std::span<const ValuePoint> points, const profile::ReadingBounds& bounds,
                  double least, ValueCourse& course) {
  const std::array<ValuePoint, 3> last{points[points.size() - 3], points[points.size() - 2],
                                       points[points.size() - 1]};
  const bool both_clear = std::abs(last[1].value - last[0].value) >= least &&
                          std::abs(last[2].value - last[1].value) >= least;
  if (!both_clear) return;
  course.estimate = end_of_approach(last[0].value, last[1].value, last[2].value);
  if (!course.estimate) return;
  add_bounds(last, bounds.scatter, course);
  if (is_at_limit(*course.estimate, bounds)) course.heading = Heading::to_limit;
}

/// Every step leads the same way, and the last is no small one: slow, but moving.
bool is_creeping(std::span<const ValuePoint> points, double settled) {
  const double last = points.back().value - points[points.size() - 2].value;
  if (std::abs(last) <= settled) return false;
  for (std::size_t i = 1; i < points.size(); ++i) {
    if ((points[i].value - points[i - 1].value) * last < 0.0) return false;
  }
  return true;
}

/// Of a value whose last step scatter alone could have made.
void judge_still(std::span<const ValuePoint> points, std::span<const ValuePoint> read,
                 const profile::ReadingBounds& bounds, const Between& between,
                 ValueCourse& course) {
  course.heading = Heading::not_yet;
  const double settled = settled_step * bounds.scatter;
  const double step = read.back().value - read[read.size() - 2].value;
  if (between.last != Driven::yes) {
    course.why = between.last == Driven::no ? NotYet::not_driven : NotYet::driving_unknown;
  } else if (all_within(read, bounds.least_difference())) {
    if (!is_creeping(points, settled)) course.heading = Heading::not_moving;
  } else if (std::abs(step) <= settled) {
    course.heading = Heading::settled;
  }
}

Driven driven_between(const evaluation::Moment& from, const evaluation::Moment& to) {
  const evaluation::Interval distance = evaluation::distance_between(from, to);
  if (distance.low >= least_distance) return Driven::yes;
  return distance.high < least_distance ? Driven::no : Driven::unknown;
}

/// Everything read since the last clearing.
class CourseReader {
 public:
  CourseReader(const CardFacts& card, const evaluation::Evaluation& states,
               const std::string& drive)
      : card_(card), rules_(card.rules()), facts_(card.facts()), states_(states), drive_(drive) {}

  MovingValues run() {
    MovingValues result;
    result.ordered = facts_.ordered;
    find_clearing();
    if (!cleared_) return result;
    result.cleared_at = card_.when(*cleared_);
    if (result.cleared_at.empty()) result.cleared_at = "without a date";
    for (const std::size_t s : since_)
      result.read.push_back(CardFacts::when(facts_.snapshots[s].when));
    if (!facts_.ordered || since_.empty()) return result;
    for (std::uint32_t r = 0; r < rules_.readings.size(); ++r) add({r}, result);
    return result;
  }

 private:
  [[nodiscard]] std::vector<EventAt> occurrences(const grounding::GroundReset& reset) const {
    const auto [first, last] = facts_.occurrences.range(reset.event.at());
    return {first, last};
  }

  void find_clearing() {
    std::vector<EventAt> clearings;
    for (const grounding::GroundReset& reset : rules_.resets) {
      if (!reset.clears) continue;
      const auto events = occurrences(reset);
      clearings.insert(clearings.end(), events.begin(), events.end());
    }
    cleared_ = card_.latest(clearings);
    for (std::size_t s = 0; cleared_ && s < facts_.snapshots.size(); ++s) {
      if (card_.order_to_reading(*cleared_, s) == Order::before) since_.push_back(s);
    }
  }

  /// The first of `since_` that belongs to the same part and software as the last one does.
  [[nodiscard]] std::size_t first_alike(grounding::GroundReading reading) const {
    std::size_t first = 0;
    for (std::size_t i = 1; i < since_.size(); ++i) {
      if (renewed_between(reading, since_[i - 1], since_[i])) first = i;
    }
    return first;
  }

  [[nodiscard]] bool renewed_between(grounding::GroundReading reading, std::size_t before,
                                     std::size_t after) const {
    const std::uint32_t then = facts_.snapshots[before].software;
    const std::uint32_t now = facts_.snapshots[after].software;
    if (then != 0 && now != 0 && then != now) return true;
    return std::ranges::any_of(rules_.resets, [&](const grounding::GroundReset& reset) {
      if (!rules_.resets_reading(reset, reading)) return false;
      return std::ranges::any_of(occurrences(reset), [&](EventAt event) {
        return card_.order_to_reading(event, before) != Order::before &&
               card_.order_to_reading(event, after) != Order::after;
      });
    });
  }

  void add(grounding::GroundReading reading, MovingValues& result) const {
    const auto& bounds = rules_.bounds[reading.at()];
    if (!bounds || !std::isfinite(bounds->high_limit)) return;
    const std::size_t first = first_alike(reading);
    std::vector<ValuePoint> points;
    std::vector<std::size_t> taken;
    // The zero of the clearing, unless something else began anew since.
    if (first == 0) points.push_back({0.0, false});
    MovingValue moving = named(reading);
    bool newest_learned = true;
    for (std::size_t i = first; i < since_.size(); ++i) {
      const ReadingFact& fact = facts_.reading(reading, since_[i]);
      if (fact.said == ReadingFact::Said::nothing) continue;
      if (const auto* why = set_aside(reading, since_[i])) {
        moving.not_used.push_back(said(reading, fact) + ": " + why->header.says);
        continue;
      }
      newest_learned = fact.said == ReadingFact::Said::value;
      moving.values.push_back(said(reading, fact));
      if (!newest_learned) continue;
      points.push_back({fact.value, true});
      taken.push_back(since_[i]);
    }
    if (moving.values.empty() && moving.not_used.empty()) return;
    take_course(course_of(points, *bounds, between(taken, first == 0)), reading, moving);
    if (!newest_learned) moving.heading = Heading::not_learned;
    result.values.push_back(std::move(moving));
  }

  /// The first distrust that holds the value back and that the drive itself does not end.
  [[nodiscard]] const rulebase::Distrust* set_aside(grounding::GroundReading reading,
                                                    std::size_t snapshot) const {
    for (std::size_t d = 0; d < states_.distrusts.size(); ++d) {
      const auto& when = states_.distrusts[d].snapshots;
      const auto& what = rules_.distrusts[d].readings;
      if (std::ranges::find(when, snapshot) == when.end() ||
          std::ranges::find(what, reading) == what.end())
        continue;
      const rulebase::Distrust& found = rules_.rules->distrusts[rules_.distrusts[d].declaration];
      if (!ends_with_drive(found)) return &found;
    }
    return nullptr;
  }

  [[nodiscard]] bool ends_with_drive(const rulebase::Distrust& distrust) const {
    return std::ranges::any_of(distrust.until, [&](const auto& one) {
      const auto* repair = std::get_if<rulebase::RepairId>(&one.what);
      return repair != nullptr && rules_.rules->repairs[repair->at()].header.name == drive_;
    });
  }

  [[nodiscard]] Between between(const std::vector<std::size_t>& taken, bool from_clearing) const {
    Between between{spans_alike(taken, from_clearing), Driven::unknown, Driven::unknown};
    if (taken.size() < 2) return between;
    const evaluation::Moment& newest = facts_.snapshots[taken.back()].when;
    between.last = driven_between(facts_.snapshots[taken[taken.size() - 2]].when, newest);
    if (from_clearing)
      between.since_clearing = driven_between(facts_.event_times[*cleared_], newest);
    return between;
  }

  /// Where the card does not say how far it was, nothing speaks against it.
  [[nodiscard]] bool spans_alike(const std::vector<std::size_t>& taken, bool from_clearing) const {
    std::vector<std::optional<double>> at;
    if (from_clearing) at.push_back(facts_.event_times[*cleared_].odometer);
    for (const std::size_t s : taken) at.push_back(facts_.snapshots[s].when.odometer);
    if (at.size() < 3) return true;
    const auto& a = at[at.size() - 3];
    const auto& b = at[at.size() - 2];
    const auto& c = at[at.size() - 1];
    if (!a || !b || !c) return true;
    const double first = *b - *a;
    const double second = *c - *b;
    return first <= 2.0 * second && second <= 2.0 * first;
  }

  [[nodiscard]] MovingValue named(grounding::GroundReading reading) const {
    MovingValue moving;
    const auto& origin = rules_.readings.origins[reading.at()];
    const auto& declared = rules_.rules->readings[origin.declaration];
    moving.id = rules_.name_of(reading);
    moving.kind = declared.header.name;
    if (origin.member && declared.header.scope)
      moving.member =
          rules_.rules->unit.scope(*declared.header.scope).members.at(origin.member->at());
    return moving;
  }

  [[nodiscard]] std::string text(grounding::GroundReading reading, double value) const {
    const auto& origin = rules_.readings.origins[reading.at()];
    return units::to_text({value, rules_.rules->readings[origin.declaration].dimension});
  }

  [[nodiscard]] std::string said(grounding::GroundReading reading, const ReadingFact& fact) const {
    return fact.said == ReadingFact::Said::value ? text(reading, fact.value) : "not learned";
  }

  [[nodiscard]] std::string why_not_yet(grounding::GroundReading reading, NotYet why) const {
    const std::string least = units::to_text({least_distance, units::find_unit("km")->dimension});
    switch (why) {
      case NotYet::creeping:
        return fmt::format("the last step is more than {}, though less than scatter makes",
                           text(reading, settled_step * rules_.bounds[reading.at()]->scatter));
      case NotYet::not_driven:
        return fmt::format("less than {} were driven between the readings", least);
      case NotYet::driving_unknown:
        return fmt::format("by the card nobody knows whether {} were driven between the readings",
                           least);
    }
    return {};
  }

  /// Without the digits that scatter makes worthless.
  [[nodiscard]] std::string rounded(grounding::GroundReading reading, double value) const {
    const double scatter = rules_.bounds[reading.at()]->scatter;
    if (scatter <= 0.0) return text(reading, value);
    const double step = std::pow(10.0, std::floor(std::log10(scatter / 2.0)));
    return text(reading, std::round(value / step) * step);
  }

  void take_course(const ValueCourse& course, grounding::GroundReading reading,
                   MovingValue& moving) const {
    moving.heading = course.heading;
    if (course.heading == Heading::not_yet) moving.because = why_not_yet(reading, course.why);
    moving.estimate = course.estimate;
    moving.estimate_low = course.low;
    moving.estimate_high = course.high;
    if (!course.estimate) return;
    moving.estimate_says = "about " + rounded(reading, *course.estimate);
    if (course.low && course.high) {
      moving.estimate_says += fmt::format(", between {} and {}", rounded(reading, *course.low),
                                          rounded(reading, *course.high));
    } else if (course.low) {
      moving.estimate_says += fmt::format(", at least {}", rounded(reading, *course.low));
    } else if (course.high) {
      moving.estimate_says += fmt::format(", at most {}", rounded(reading, *course.high));
    }
  }

  const CardFacts& card_;
  const grounding::GroundRules& rules_;
  const evaluation::JobFacts& facts_;
  const evaluation::Evaluation& states_;
  const std::string& drive_;
  std::optional<EventAt> cleared_;
  std::vector<std::size_t> since_;  // snapshots
};

}  // namespace

ValueCourse course_of(std::span<const ValuePoint> points, const profile::ReadingBounds& bounds,
                      const Between& between) {
  ValueCourse course;
  std::vector<ValuePoint> read;
  std::ranges::copy_if(points, std::back_inserter(read), &ValuePoint::was_read);
  if (read.size() < 2) return course;
  const double least = bounds.least_difference();
  const double step = read.back().value - read[read.size() - 2].value;
  if (all_within(read, 0.0)) {
    const bool undriven = between.since_clearing == Driven::no;
    course = {undriven ? Heading::not_yet : Heading::at_zero, NotYet::not_driven, {}, {}, {}};
  } else if (is_zigzag(points, least)) {
    course.heading = Heading::zigzag;
  } else if (std::abs(step) >= least) {
    course.heading = is_at_limit(read.back().value, bounds) ? Heading::to_limit : Heading::moving;
    if (between.spans_alike && points.size() >= 3) add_estimate(points, bounds, least, course);
  } else if (is_at_limit(read.back().value, bounds)) {
    course.heading = Heading::to_limit;
  } else {
    judge_still(points, read, bounds, between, course);
  }
  return course;
}

MovingValues moving_values(const CardFacts& card, const evaluation::Evaluation& states,
                           const std::string& drive) {
  return CourseReader(card, states, drive).run();
}

}  // namespace slipcase::drive
