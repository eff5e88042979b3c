#include "evaluation/moment.h"

#include <algorithm>
#include <tuple>

namespace slipcase::evaluation {

namespace {

template <class Number>
std::optional<Order> by_number(const std::optional<Number>& a, const std::optional<Number>& b) {
  if (!a || !b || *a == *b) return std::nullopt;
  return *a < *b ? Order::before : Order::after;
}

bool same_stretch(const Moment& a, const Moment& b) {
  return a.stretch && b.stretch && *a.stretch == *b.stretch;
}

/// `a` is marked as being after `b`, or after something that is.
bool follows(const Moment& a, const Moment& b, std::span<const Moment> events) {
  const Moment* at = &a;
  // A chain longer than the list would be a circle, which binding refuses.
  for (std::size_t i = 0; i < events.size() && at->follows; ++i) {
    at = &events[*at->follows];
    if (at == &b) return true;
  }
  return false;
}

/// Both on one day, or at one reading of the odometer.
Order within_day(const Moment& a, const Moment& b, std::span<const Moment> events) {
  if (const auto order = by_number(a.minute, b.minute)) return *order;
  if (same_stretch(a, b)) {
    if (const auto order = by_number(a.odometer, b.odometer)) return *order;
  }
  if (follows(a, b, events)) return Order::after;
  if (follows(b, a, events)) return Order::before;
  // A plain reading comes first of all of its day.
  const bool plain_a = a.is_reading && !a.follows;
  const bool plain_b = b.is_reading && !b.follows;
  if (plain_a == plain_b) return Order::unknown;
  return plain_a ? Order::before : Order::after;
}

bool surely_before(const Moment& a, const Moment& b) {
  if (a.days.high < b.days.low) return true;
  // At the latest on b's day, and there a plain reading comes first.
  if (a.is_reading && !a.follows && !b.is_reading && a.days.high <= b.days.low) return true;
  return same_stretch(a, b) && a.odometers.high < b.odometers.low;
}

/// A moment with both date and odometer.
struct Tie {
  std::int64_t day = 0;
  double odometer = 0.0;
  std::size_t moment = 0;
  std::uint32_t stretch = 0;
};

std::vector<Tie> ties_of(std::span<Moment* const> moments) {
  std::vector<Tie> ties;
  for (std::size_t i = 0; i < moments.size(); ++i) {
    const Moment& moment = *moments[i];
    if (moment.day && moment.odometer) ties.push_back({*moment.day, *moment.odometer, i, 0});
  }
  std::ranges::sort(ties, {}, [](const Tie& t) { return std::tuple(t.day, t.odometer, t.moment); });
  return ties;
}

/// Numbers the stretches and returns the falls between them.
std::vector<OdometerFall> number_stretches(std::vector<Tie>& ties) {
  std::vector<OdometerFall> falls;
  for (std::size_t i = 1; i < ties.size(); ++i) {
    ties[i].stretch = ties[i - 1].stretch;
    if (ties[i].odometer >= ties[i - 1].odometer) continue;
    ++ties[i].stretch;
    falls.push_back({ties[i - 1].moment, ties[i].moment});
  }
  return falls;
}

void bound_odometer(Moment& moment, const std::vector<Tie>& ties) {
  const auto day = *moment.day;
  const auto later = std::ranges::upper_bound(ties, day, {}, &Tie::day);
  const auto same_day = std::ranges::lower_bound(ties, day, {}, &Tie::day);
  const bool has_before = same_day != ties.begin();
  const bool has_after = later != ties.end();
  // In between two stretches it is open on which side of the fall it was.
  std::optional<std::uint32_t> stretch;
  if (has_before) stretch = (same_day - 1)->stretch;
  for (auto it = same_day; it != later; ++it) {
    if (stretch && *stretch != it->stretch) return;
    stretch = it->stretch;
  }
  if (has_after) {
    if (stretch && *stretch != later->stretch) return;
    stretch = later->stretch;
  }
  moment.stretch = stretch.value_or(0);
  if (moment.odometer) return;
  if (has_before) moment.odometers.low = (same_day - 1)->odometer;
  if (has_after) moment.odometers.high = later->odometer;
}

void bound_day(Moment& moment, const std::vector<Tie>& ties) {
  for (const Tie& tie : ties) {
    const auto day = static_cast<double>(tie.day);
    if (tie.odometer < *moment.odometer) moment.days.low = std::max(moment.days.low, day);
    if (tie.odometer > *moment.odometer) moment.days.high = std::min(moment.days.high, day);
  }
}

}  // namespace

Order compare(const Moment& a, const Moment& b, std::span<const Moment> events) {
  if (a.day && b.day) {
    if (const auto order = by_number(a.day, b.day)) return *order;
    return within_day(a, b, events);
  }
  if (a.odometer && b.odometer && same_stretch(a, b)) {
    if (const auto order = by_number(a.odometer, b.odometer)) return *order;
    return within_day(a, b, events);
  }
  if (follows(a, b, events)) return Order::after;
  if (follows(b, a, events)) return Order::before;
  if (surely_before(a, b)) return Order::before;
  if (surely_before(b, a)) return Order::after;
  return Order::unknown;
}

std::vector<OdometerFall> tie_together(std::span<Moment* const> moments) {
  std::vector<Tie> ties = ties_of(moments);
  auto falls = number_stretches(ties);
  for (Moment* const moment : moments) {
    if (moment->day) moment->days = Interval::point(static_cast<double>(*moment->day));
    if (moment->odometer) moment->odometers = Interval::point(*moment->odometer);
    if (falls.empty()) moment->stretch = 0;
    if (moment->day && !moment->odometer) bound_odometer(*moment, ties);
    if (!moment->day && moment->odometer && falls.empty()) bound_day(*moment, ties);
  }
  for (const Tie& tie : ties) moments[tie.moment]->stretch = tie.stretch;
  return falls;
}

Interval days_between(const Moment& from, const Moment& to) {
  constexpr double minutes_per_day = 1440.0;
  Interval days = difference(to.days, from.days);
  if (from.day && to.day && from.minute && to.minute) {
    const double minutes = static_cast<double>(*to.minute) - static_cast<double>(*from.minute);
    days = Interval::point(days.low + minutes / minutes_per_day);
  }
  return days;
}

Interval distance_between(const Moment& from, const Moment& to) {
  if (!same_stretch(from, to)) return Interval::anything();
  return difference(to.odometers, from.odometers);
}

}  // namespace slipcase::evaluation
