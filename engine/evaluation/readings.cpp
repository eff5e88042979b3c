#include "evaluation/readings.h"

#include <algorithm>
#include <cmath>

namespace slipcase::evaluation {

using grounding::ValueNode;
using rulebase::ReadingFunction;
using rulebase::ShareOf;
using Said = ReadingFact::Said;

// --- which snapshots --------------------------------------------------------------------------

std::uint32_t Readings::count(AsOf as_of) const {
  return as_of ? *as_of + 1 : static_cast<std::uint32_t>(facts_.snapshots.size());
}

template <class Has>
Readings::Snapshot Readings::newest_with(std::uint32_t count, AsOf as_of, const Has& has) const {
  Snapshot newest;
  for (std::uint32_t i = count; i-- > 0;) {
    if (!has(i)) continue;
    const auto& when = facts_.snapshots[i].when;
    // The list is sorted as far as the order is known; a later one may still be the newer one.
    if (newest) {
      const auto& last = facts_.snapshots[*newest].when;
      if (compare(when, last, facts_.event_times) == Order::unknown) return std::nullopt;
      continue;
    }
    if (as_of && i != *as_of && !facts_.ordered &&
        compare(when, history_.moment(as_of), facts_.event_times) == Order::unknown) {
      return std::nullopt;
    }
    newest = i;
    if (facts_.ordered) break;
  }
  return newest;
}

Readings::Snapshot Readings::newest_said(GroundReading reading, AsOf as_of) const {
  return newest_with(count(as_of), as_of, [&](std::uint32_t snapshot) {
    return facts_.reading(reading, snapshot).said != Said::nothing;
  });
}

Truth Readings::is_fresh(std::uint32_t snapshot, AsOf as_of) const {
  const auto& profile = *rules_.profile;
  const Moment& then = facts_.snapshots[snapshot].when;
  const Moment& now = history_.moment(as_of);
  const Interval age = scaled(magnitude(days_between(then, now)), grounding::milliseconds_per_day);
  const Interval run = magnitude(distance_between(then, now));
  const Truth by_time = less_equal(age, Interval::point(profile.fresh_time.value));
  const Truth by_distance = less_equal(run, Interval::point(profile.fresh_distance.value));
  // One of the two is enough, as it is for a card; the other may only speak against it.
  if (by_time == Truth::no || by_distance == Truth::no) return Truth::no;
  return either(by_time, by_distance);
}

Truth Readings::reset_since(std::uint32_t snapshot, GroundReading reading, Resets which,
                            AsOf as_of) const {
  Truth any = Truth::no;
  for (const auto& reset : rules_.resets) {
    if (which == Resets::not_clearings && reset.clears) continue;
    const auto [begin, end] = facts_.occurrences.range(reset.event.at());
    if (begin == end || !rules_.resets_reading(reset, reading)) continue;
    for (const auto* event = begin; event != end; ++event) {
      const Order order = facts_.event_order[*event * facts_.snapshots.size() + snapshot];
      any = either(any, both(is_after(order), history_.had_happened(*event, as_of)));
    }
  }
  return any;
}

bool Readings::is_aside(GroundReading reading, std::uint32_t snapshot, std::uint32_t exempt) const {
  const auto& left_out = rules_.programs.exemptions[exempt];
  const auto [begin, end] = rules_.distrusts_of_reading.range(reading.at());
  return std::any_of(begin, end, [&](std::uint32_t distrust) {
    return set_aside_[distrust * facts_.snapshots.size() + snapshot] == Truth::yes &&
           !std::ranges::binary_search(left_out, distrust);
  });
}

std::optional<std::uint32_t> Readings::withheld_by(const ValueNode& node) const {
  if (node.function == ReadingFunction::as_read) return std::nullopt;
  const auto& left_out = rules_.programs.exemptions[node.exempt];
  const auto [begin, end] = rules_.distrusts_of_reading.range(node.a);
  for (const auto* distrust = begin; distrust != end; ++distrust) {
    if (std::ranges::binary_search(left_out, *distrust)) continue;
    for (std::size_t snapshot = 0; snapshot < facts_.snapshots.size(); ++snapshot) {
      if (set_aside_[*distrust * facts_.snapshots.size() + snapshot] != Truth::yes) continue;
      if (facts_.reading(GroundReading{node.a}, snapshot).said == Said::value) return *distrust;
    }
  }
  return std::nullopt;
}

std::vector<std::uint32_t> Readings::series(const ValueNode& node, AsOf as_of) const {
  const GroundReading reading{node.a};
  std::vector<std::uint32_t> list;
  if (!facts_.ordered) return list;
  std::optional<std::uint32_t> software;
  for (std::uint32_t i = count(as_of); i-- > 0 && list.size() < longest_series;) {
    const ReadingFact& fact = facts_.reading(reading, i);
    if (fact.said == Said::nothing) continue;
    const auto& snapshot = facts_.snapshots[i];
    const bool comparable = fact.said == Said::value &&
                            snapshot.software == software.value_or(snapshot.software) &&
                            reset_since(i, reading, Resets::all, as_of) == Truth::no;
    if (!comparable) break;
    software = snapshot.software;
    if (!is_aside(reading, i, node.exempt)) list.push_back(i);
  }
  return list;
}

std::vector<TrendPoint> Readings::points(const ValueNode& node, AsOf as_of) const {
  std::vector<TrendPoint> list;
  std::optional<std::uint32_t> stretch;
  for (const std::uint32_t snapshot : series(node, as_of)) {
    const Moment& when = facts_.snapshots[snapshot].when;
    if (!when.odometer || !when.stretch) continue;
    if (stretch.value_or(*when.stretch) != *when.stretch) break;
    stretch = when.stretch;
    list.push_back({*when.odometer, facts_.reading(GroundReading{node.a}, snapshot).value});
  }
  std::ranges::reverse(list);
  return list;
}

// --- what is made of them ---------------------------------------------------------------------

Interval Readings::possible(GroundReading reading) const {
  const auto& bounds = rules_.bounds[reading.at()];
  if (!bounds) return Interval::anything();
  return {bounds->lowest_possible, bounds->highest_possible};
}

double Readings::least_difference(GroundReading reading) const {
  const auto& bounds = rules_.bounds[reading.at()];
  return bounds ? bounds->least_difference() : 0.0;
}

Interval Readings::newest(const ValueNode& node, AsOf as_of) const {
  const GroundReading reading{node.a};
  const Snapshot snapshot = newest_said(reading, as_of);
  if (!snapshot) return possible(reading);
  const ReadingFact& fact = facts_.reading(reading, *snapshot);
  const bool aside =
      node.function != ReadingFunction::as_read && is_aside(reading, *snapshot, node.exempt);
  const bool usable = fact.said == Said::value && !aside &&
                      is_fresh(*snapshot, as_of) == Truth::yes &&
                      reset_since(*snapshot, reading, Resets::all, as_of) == Truth::no;
  return usable ? Interval::point(fact.value) : possible(reading);
}

Interval Readings::before_clearing(const ValueNode& node, AsOf as_of) const {
  const GroundReading reading{node.a};
  const auto cleared_after = [&](std::uint32_t snapshot) {
    const Truth any = reset_since(snapshot, reading, Resets::all, as_of);
    const Truth other = reset_since(snapshot, reading, Resets::not_clearings, as_of);
    return any == Truth::yes && other == Truth::no;
  };
  const Snapshot snapshot = newest_with(count(as_of), as_of, [&](std::uint32_t i) {
    return facts_.reading(reading, i).said != Said::nothing &&
           reset_since(i, reading, Resets::all, as_of) != Truth::no;
  });
  if (!snapshot || !cleared_after(*snapshot)) return possible(reading);
  const ReadingFact& fact = facts_.reading(reading, *snapshot);
  const bool usable = fact.said == Said::value && !is_aside(reading, *snapshot, node.exempt);
  return usable ? Interval::point(fact.value) : possible(reading);
}

Interval Readings::change(const ValueNode& node, AsOf as_of) const {
  const GroundReading reading{node.a};
  const auto list = series(node, as_of);
  if (list.size() < 2) return difference(possible(reading), possible(reading));
  const double change =
      facts_.reading(reading, list[0]).value - facts_.reading(reading, list[1]).value;
  return Interval::point(std::abs(change) < least_difference(reading) ? 0.0 : change);
}

Interval Readings::slope(const ValueNode& node, AsOf as_of) const {
  const auto list = points(node, as_of);
  const auto slope = theil_sen_slope(list);
  if (!slope) return Interval::anything();
  const double run = list.back().odometer - list.front().odometer;
  const bool real = std::abs(*slope * run) >= least_difference(GroundReading{node.a});
  return Interval::point(real ? *slope : 0.0);
}

Interval Readings::step(const ValueNode& node, AsOf as_of) const {
  const GroundReading reading{node.a};
  const auto height = step_height(points(node, as_of));
  if (!height) return difference(possible(reading), possible(reading));
  return Interval::point(std::abs(*height) < least_difference(reading) ? 0.0 : *height);
}

Interval Readings::taken(const ValueNode& node, AsOf as_of) const {
  const auto& bounds = rules_.bounds[node.a];
  switch (node.function) {
    case ReadingFunction::newest:
    case ReadingFunction::as_read:
      return newest(node, as_of);
    case ReadingFunction::before_clearing:
      return before_clearing(node, as_of);
    case ReadingFunction::change:
      return change(node, as_of);
    case ReadingFunction::slope:
      return slope(node, as_of);
    case ReadingFunction::step:
      return step(node, as_of);
    case ReadingFunction::scatter:
      return Interval::point(bounds->scatter);
    case ReadingFunction::high_limit:
      return Interval::point(bounds->high_limit);
    case ReadingFunction::low_limit:
      break;
  }
  return Interval::point(bounds->low_limit);
}

namespace {

/// A value as a share of the line on its side, with the value's own sign.
double signed_share(double value, double low, double high) {
  if (value == 0.0) return 0.0;
  return value > 0.0 ? value / std::abs(high) : value / std::abs(low);
}

}  // namespace

Interval Readings::share(const ValueNode& node, const Interval& value) const {
  if (node.share == ShareOf::nothing) return value;
  const auto& bounds = *rules_.bounds[node.a];
  const bool limit = node.share == ShareOf::limit;
  const double low = limit ? bounds.low_limit : bounds.low_watch;
  const double high = limit ? bounds.high_limit : bounds.high_watch;
  // The share rises with the value, so the ends stay the ends.
  return {signed_share(value.low, low, high), signed_share(value.high, low, high)};
}

Interval Readings::ratio_error(const ValueNode& node, AsOf as_of) const {
  const GroundReading turbine{node.a};
  const GroundReading output{node.other};
  const Interval open = difference(possible(turbine), scaled(possible(output), node.number));
  const Snapshot snapshot = newest_with(count(as_of), as_of, [&](std::uint32_t i) {
    return facts_.reading(turbine, i).said == Said::value &&
           facts_.reading(output, i).said == Said::value;
  });
  if (!snapshot) return open;
  const bool usable = !is_aside(turbine, *snapshot, node.exempt) &&
                      !is_aside(output, *snapshot, node.exempt) &&
                      is_fresh(*snapshot, as_of) == Truth::yes &&
                      reset_since(*snapshot, turbine, Resets::all, as_of) == Truth::no;
  if (!usable) return open;
  return Interval::point(facts_.reading(turbine, *snapshot).value -
                         node.number * facts_.reading(output, *snapshot).value);
}

Interval Readings::value(const ValueNode& node, AsOf as_of) const {
  if (node.kind == ValueNode::Kind::ratio_error) return ratio_error(node, as_of);
  return share(node, taken(node, as_of));
}

}  // namespace slipcase::evaluation
