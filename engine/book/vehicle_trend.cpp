#include "book/vehicle_trend.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "book/next_look.h"
#include "book/reading_trend.h"
#include "units/quantity.h"

namespace slipcase::book {

namespace {

using grounding::GroundReading;

/// More than scatter: 1 up, -1 down, 0 neither; nothing if it cannot be told.
std::optional<int> direction(const TrendSegment& segment) {
  if (segment.shape == TrendShape::too_few || segment.shape == TrendShape::too_near)
    return std::nullopt;
  if (segment.shape == TrendShape::step) return segment.steps.back().height > 0.0 ? 1 : -1;
  if (!segment.slope || !segment.slope->moved) return 0;
  return segment.slope->value > 0.0 ? 1 : -1;
}

/// Of the stretches that end with the newest values (`until` empty), or with what began then.
TrendPattern pattern_of(const std::string& kind, const std::string& until,
                        const std::vector<ReadingTrend>& readings) {
  TrendPattern pattern;
  pattern.reading = kind;
  pattern.until = until;
  for (const ReadingTrend& reading : readings) {
    if (reading.kind != kind || reading.member.empty()) continue;
    for (std::size_t i = 0; i < reading.segments.size(); ++i) {
      const bool last = i + 1 == reading.segments.size();
      if ((last ? "" : reading.segments[i + 1].since) != until) continue;
      const auto way = direction(reading.segments[i]);
      if (way.value_or(0) == 0 && reading.segments[i].changed)
        pattern.unsteady.push_back(reading.member);
      if (!way) continue;
      ++pattern.told;
      if (*way > 0) pattern.up.push_back(reading.member);
      if (*way < 0) pattern.down.push_back(reading.member);
    }
  }
  // Four of five the same way count as all (common practice, no source).
  const std::size_t most = std::max(pattern.up.size(), pattern.down.size());
  const std::size_t moved = pattern.up.size() + pattern.down.size();
  if (moved == 1) pattern.moved = ChangePattern::one;
  if (moved > 1) pattern.moved = ChangePattern::several;
  if (most * 5 >= pattern.told * 4 && most > 1) pattern.moved = ChangePattern::all;
  return pattern;
}

/// Of the newest values, else of the last ones before them of which there were enough.
std::optional<TrendPattern> newest_pattern(const std::string& kind,
                                           const std::vector<ReadingTrend>& readings) {
  std::vector<std::string> ends{""};
  for (const ReadingTrend& reading : readings) {
    if (reading.kind != kind) continue;
    for (std::size_t i = reading.segments.size(); i-- > 1;)
      if (std::ranges::find(ends, reading.segments[i].since) == ends.end())
        ends.push_back(reading.segments[i].since);
  }
  for (const std::string& until : ends) {
    TrendPattern pattern = pattern_of(kind, until, readings);
    if (pattern.told >= 3) return pattern;
  }
  return std::nullopt;
}

std::vector<TrendPattern> patterns(const std::vector<ReadingTrend>& readings) {
  std::vector<TrendPattern> list;
  std::set<std::string> done;
  for (const ReadingTrend& reading : readings) {
    if (!done.insert(reading.kind).second) continue;
    if (auto pattern = newest_pattern(reading.kind, readings)) list.push_back(std::move(*pattern));
  }
  return list;
}

class Teller {
 public:
  Teller(const History& history, bool miles)
      : history_(history),
        facts_(history.facts),
        miles_(miles),
        distance_(*units::find_unit(miles ? "miles" : "km")) {}

  VehicleTrend run() {
    trend_.unit = history_.ground.profile->name;
    trend_.distance_unit = distance_.symbol;
    trend_.snapshots = facts_.snapshots.size();
    trend_.ordered = facts_.ordered;
    if (!facts_.ordered || facts_.snapshots.empty()) return std::move(trend_);
    trend_.first_at = says_when(facts_.snapshots.front().when, miles_);
    trend_.last_at = says_when(facts_.snapshots.back().when, miles_);
    mark();
    for (std::uint32_t r = 0; r < history_.ground.readings.origins.size(); ++r)
      add(GroundReading{r});
    trend_.patterns = patterns(trend_.readings);
    recommend();
    return std::move(trend_);
  }

 private:
  void add(GroundReading reading) {
    const auto& bounds = history_.ground.bounds[reading.at()];
    if (!bounds || !std::isfinite(bounds->high_limit)) return;
    auto told = reading_trend(history_, reading, {distance_, trend_.slope_distance},
                              look_distances(miles_));
    if (told) trend_.readings.push_back(std::move(*told));
  }

  [[nodiscard]] double distance(double base) const {
    return units::in_unit({base, distance_.dimension}, distance_);
  }

  [[nodiscard]] std::vector<std::uint32_t> work() {
    std::set<std::uint32_t> events;
    for (const auto& reset : history_.ground.resets) {
      const auto [first, last] = facts_.occurrences.range(reset.event.at());
      events.insert(first, last);
    }
    splitting_ = events;
    for (const auto& repair : facts_.repairs) events.insert(repair.event);
    std::vector<std::uint32_t> list(events.begin(), events.end());
    // By the best that is known of when it was, so that one list can be read from top to bottom.
    std::ranges::stable_sort(list, [&](std::uint32_t a, std::uint32_t b) {
      return evaluation::compare(facts_.event_times[a], facts_.event_times[b],
                                 facts_.event_times) == evaluation::Order::before;
    });
    return list;
  }

  void mark() {
    for (const std::uint32_t event : work()) {
      const auto odometer = near_odometer(facts_.event_times[event]);
      trend_.marks.push_back({says_when(facts_.event_times[event], miles_),
                              odometer ? std::optional(distance(*odometer)) : std::nullopt,
                              says_event(history_, event), splitting_.contains(event)});
    }
  }

  /// Where the vehicle stands now, and where its newest values were read.
  struct Here {
    std::optional<std::uint32_t> stretch;
    double now = 0.0;
    double read_at = 0.0;
  };

  /// By date, not by the number: another instrument may show less than the one before it.
  [[nodiscard]] std::optional<Here> here() const {
    const evaluation::Moment* read = nullptr;
    for (const auto& snapshot : facts_.snapshots)
      if (snapshot.when.odometer) read = &snapshot.when;
    if (!read) return std::nullopt;
    Here place{read->stretch, *read->odometer, *read->odometer};
    const evaluation::Moment& now = facts_.now;
    if (!now.odometer) return place;
    const bool fell = now.stretch != read->stretch && now.stretch && read->stretch;
    // How far it is since the newest values nobody knows then.
    if (fell && now.day && read->day && *now.day > *read->day)
      return Here{now.stretch, *now.odometer, *now.odometer};
    if (!fell) place.now = std::max(place.now, *now.odometer);
    return place;
  }

  void recommend() {
    const auto at = here();
    if (!at) return;
    const LookDistances looks = look_distances(miles_);
    trend_.next = next_look(trend_.readings, recent_work(*at, looks), looks, distance(at->now),
                            distance(at->read_at));
  }

  /// The last work, if nothing was read far enough behind it.
  [[nodiscard]] std::optional<RecentWork> recent_work(const Here& at, const LookDistances& looks) {
    std::optional<RecentWork> recent;
    for (const std::uint32_t event : work()) {
      const evaluation::Moment& when = facts_.event_times[event];
      const auto base = near_odometer(when);
      if (!base || when.stretch != at.stretch) continue;
      const double odometer = distance(*base);
      if (recent && odometer < recent->odometer) continue;
      if (distance(at.read_at) - odometer < looks.after_repair)
        recent = RecentWork{says_event(history_, event), odometer};
    }
    return recent;
  }

  const History& history_;
  const evaluation::JobFacts& facts_;
  bool miles_;
  const units::Unit& distance_;
  std::set<std::uint32_t> splitting_;
  VehicleTrend trend_;
};

}  // namespace

VehicleTrend vehicle_trend(const History& history, bool miles) {
  return Teller(history, miles).run();
}

}  // namespace slipcase::book
