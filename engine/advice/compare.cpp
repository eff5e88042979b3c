#include "advice/compare.h"

#include <algorithm>
#include <cmath>
#include <map>

#include <fmt/core.h>

#include "advice/visit.h"
#include "units/date.h"
#include "units/quantity.h"

namespace slipcase::advice {
namespace {

using evaluation::JobFacts;
using evaluation::Order;
using evaluation::ReadingFact;
using grounding::GroundReading;
using grounding::GroundRules;

/// An event after which readings may be others than before.
struct Break {
  std::uint32_t event = 0;  // its place in JobFacts::events
  bool clears = false;
  std::vector<const grounding::GroundReset*> resets;
};

class Comparer {
 public:
  Comparer(const GroundRules& ground, const JobFacts& facts, const evaluation::Evaluation& states)
      : ground_(ground), facts_(facts), states_(states) {
    for (std::uint32_t e = 0; e < facts.events.size(); ++e)
      if (auto found = break_at(e)) breaks_.push_back(std::move(*found));
  }

  std::vector<Comparison> run() {
    std::vector<Comparison> list;
    for (std::uint32_t s = 1; s < facts_.snapshots.size(); ++s) {
      const std::vector<const Break*> between = breaks_between(s - 1, s);
      if (between.empty()) continue;
      std::uint32_t newest = s;
      while (newest + 1 < facts_.snapshots.size() && breaks_between(newest, newest + 1).empty())
        ++newest;
      list.push_back(compare(s - 1, newest, between));
    }
    return list;
  }

 private:
  [[nodiscard]] std::optional<Break> break_at(std::uint32_t event) const {
    Break found{event, false, {}};
    for (const grounding::GroundReset& reset : ground_.resets) {
      const auto [first, last] = facts_.occurrences.range(reset.event.at());
      if (std::find(first, last, event) == last) continue;
      found.resets.push_back(&reset);
      found.clears = found.clears || reset.clears;
    }
    const bool is_repair =
        std::ranges::any_of(facts_.repairs, [&](const auto& done) { return done.event == event; });
    if (found.resets.empty() && !is_repair) return std::nullopt;
    return found;
  }

  [[nodiscard]] Order order(std::uint32_t event, std::uint32_t snapshot) const {
    return facts_.event_order[event * facts_.snapshots.size() + snapshot];
  }

  [[nodiscard]] std::vector<const Break*> breaks_between(std::uint32_t before,
                                                         std::uint32_t after) const {
    std::vector<const Break*> list;
    for (const Break& one : breaks_)
      if (order(one.event, before) == Order::after && order(one.event, after) == Order::before)
        list.push_back(&one);
    return list;
  }

  Comparison compare(std::uint32_t before, std::uint32_t after,
                     const std::vector<const Break*>& between) const {
    Comparison result;
    for (const Break* one : between) {
      result.between.push_back(says(one->event));
      result.cleared = result.cleared || one->clears;
    }
    result.before_at = when(facts_.snapshots[before].when);
    result.after_at = when(facts_.snapshots[after].when);
    const std::uint32_t then = facts_.snapshots[before].software;
    const std::uint32_t now = facts_.snapshots[after].software;
    result.other_software = then != 0 && now != 0 && then != now;
    result.km_after = km_after(after, between);
    for (std::uint32_t r = 0; r < ground_.readings.origins.size(); ++r) {
      const GroundReading reading{r};
      if (!has_limits(reading)) continue;
      ComparedReading compared = values(reading, before, after);
      if (compared.before_says.empty() && compared.after_says.empty()) continue;
      judge(reading, after, between, result.other_software, compared);
      result.readings.push_back(std::move(compared));
    }
    result.patterns = patterns(result);
    return result;
  }

  /// From the last of `between`, if that is known to be near.
  [[nodiscard]] std::optional<double> km_after(std::uint32_t after,
                                               const std::vector<const Break*>& between) const {
    std::optional<double> nearest;
    for (const Break* one : between) {
      const auto run = evaluation::distance_between(facts_.event_times[one->event],
                                                    facts_.snapshots[after].when);
      if (!std::isfinite(run.high)) continue;
      const double km =
          units::in_unit({run.high, units::find_unit("km")->dimension}, *units::find_unit("km"));
      if (km >= 0.0 && km < soon_after_km) nearest = std::min(nearest.value_or(km), km);
    }
    return nearest;
  }

  [[nodiscard]] bool has_limits(GroundReading reading) const {
    const auto& bounds = ground_.bounds[reading.at()];
    return bounds && std::isfinite(bounds->high_limit);
  }

  [[nodiscard]] ComparedReading values(GroundReading reading, std::uint32_t before,
                                       std::uint32_t after) const {
    const auto& origin = ground_.readings.origins[reading.at()];
    const rulebase::Reading& declared = ground_.rules->readings.at(origin.declaration);
    ComparedReading compared;
    compared.id = ground_.name_of(reading);
    compared.kind = declared.header.name;
    if (origin.member && declared.header.scope)
      compared.member =
          ground_.rules->unit.scope(*declared.header.scope).members.at(origin.member->at());
    const auto read = [&](std::uint32_t snapshot, std::optional<double>& value, std::string& says) {
      const ReadingFact& fact = facts_.reading(reading, snapshot);
      if (fact.said == ReadingFact::Said::nothing) return;
      if (fact.said == ReadingFact::Said::not_learned) {
        says = "not learned";
        return;
      }
      value = fact.value;
      says = units::to_text({fact.value, declared.dimension});
    };
    read(before, compared.before, compared.before_says);
    read(after, compared.after, compared.after_says);
    return compared;
  }

  void judge(GroundReading reading, std::uint32_t after, const std::vector<const Break*>& between,
             bool other_software, ComparedReading& compared) const {
    if (compared.after) compared.range = range(reading, *compared.after);
    if (!compared.before || !compared.after) return;
    bool cleared = false;
    bool renewed = other_software;
    for (const Break* one : between) {
      for (const grounding::GroundReset* reset : one->resets) {
        if (!ground_.resets_reading(*reset, reading)) continue;
        (reset->clears ? cleared : renewed) = true;
      }
    }
    if (renewed) {
      compared.change = ReadingChange::new_start;
      return;
    }
    const double least = ground_.bounds[reading.at()]->least_difference();
    compared.change = cleared ? since_cleared(*compared.before, *compared.after, least)
                              : since_repaired(*compared.before, *compared.after, least);
    if (!cleared) return;
    if (const auto distrust = set_aside_by(ground_, states_, reading, after)) {
      compared.change = ReadingChange::not_yet;
      compared.because =
          ground_.rules->distrusts.at(ground_.distrusts.at(*distrust).declaration).because;
    }
  }

  static ReadingChange since_cleared(double before, double after, double least) {
    const bool was_small = std::abs(before) < least;
    const bool is_small = std::abs(after) < least;
    if (was_small) return is_small ? ReadingChange::small : ReadingChange::grown;
    if (is_small) return ReadingChange::stayed_away;
    if ((before > 0) != (after > 0)) return ReadingChange::grown;
    const bool as_far = std::abs(after) > std::abs(before) - least;
    return as_far ? ReadingChange::came_back : ReadingChange::partly_back;
  }

  static ReadingChange since_repaired(double before, double after, double least) {
    if (std::abs(after - before) < least) return ReadingChange::same;
    return std::abs(after) < std::abs(before) ? ReadingChange::nearer : ReadingChange::further;
  }

  [[nodiscard]] ReadingRange range(GroundReading reading, double value) const {
    const profile::ReadingBounds& bounds = *ground_.bounds[reading.at()];
    if (value >= bounds.high_limit || value <= bounds.low_limit) return ReadingRange::beyond_limit;
    if (value >= bounds.high_watch || value <= bounds.low_watch) return ReadingRange::beyond_watch;
    return ReadingRange::inside;
  }

  [[nodiscard]] std::string says(std::uint32_t event) const {
    for (const auto& done : facts_.repairs)
      if (done.event == event) return ground_.says(done.repair);
    return ground_.says(facts_.events[event].event);
  }

  static std::string when(const evaluation::Moment& moment) {
    std::string text;
    if (moment.day) text = units::Date::from_days_since_1970(*moment.day).text();
    if (moment.odometer) text += (text.empty() ? "" : ", ") + odometer_says(*moment.odometer);
    return text;
  }

  /// In the unit in which it was read, which is the one that makes it a whole number.
  static std::string odometer_says(double odometer) {
    for (const char* name : {"km", "miles"}) {
      const units::Unit& unit = *units::find_unit(name);
      const auto whole =
          units::to_quantity(std::round(units::in_unit({odometer, unit.dimension}, unit)), unit);
      if (whole.value == odometer) return units::to_text(whole, unit);
    }
    const units::Unit& km = *units::find_unit("km");
    return fmt::format("{:.0f} km", units::in_unit({odometer, km.dimension}, km));
  }

  struct Told {
    std::size_t all = 0;
    std::vector<std::string> back, grown, moved;
    std::size_t up = 0;  // of those three: on the upper side of zero, or moved up
    std::size_t down = 0;
  };

  static void count(const ComparedReading& one, Told& told) {
    ++told.all;
    const bool moved = one.change == ReadingChange::nearer || one.change == ReadingChange::further;
    if (is_back(one.change)) told.back.push_back(one.member);
    if (one.change == ReadingChange::grown) told.grown.push_back(one.member);
    if (moved) told.moved.push_back(one.member);
    if (!moved && !is_back(one.change) && one.change != ReadingChange::grown) return;
    const double way = one.after.value_or(0.0) - (moved ? one.before.value_or(0.0) : 0.0);
    ++(way > 0.0 ? told.up : told.down);
  }

  static ReadingPattern pattern_of(const std::string& kind, const Told& told) {
    ReadingPattern result;
    result.reading = kind;
    result.came_back = pattern(told.back.size(), told.all);
    result.grown = pattern(told.grown.size(), told.all);
    result.moved = pattern(told.moved.size(), told.all);
    const bool is_cleared = !told.back.empty() || !told.grown.empty();
    result.members = is_cleared ? told.back : told.moved;
    result.grown_members = told.grown;
    result.told = told.all;
    result.same_way = (told.up == 0) != (told.down == 0);
    return result;
  }

  /// Over the members of one kind of reading, where there are at least three that can be told.
  static std::vector<ReadingPattern> patterns(const Comparison& comparison) {
    std::vector<std::string> order;
    std::map<std::string, Told> kinds;
    for (const ComparedReading& one : comparison.readings) {
      if (one.member.empty() || !is_told(one.change)) continue;
      if (!kinds.contains(one.kind)) order.push_back(one.kind);
      count(one, kinds[one.kind]);
    }
    std::vector<ReadingPattern> result;
    for (const std::string& kind : order)
      if (kinds[kind].all >= 3) result.push_back(pattern_of(kind, kinds[kind]));
    return result;
  }

  static bool is_told(ReadingChange change) {
    return change != ReadingChange::unknown && change != ReadingChange::new_start &&
           change != ReadingChange::not_yet;
  }
  static bool is_back(ReadingChange change) {
    return change == ReadingChange::came_back || change == ReadingChange::partly_back;
  }
  static ChangePattern pattern(std::size_t some, std::size_t all) {
    if (some == 0) return ChangePattern::none;
    if (some == all) return ChangePattern::all;
    return some == 1 ? ChangePattern::one : ChangePattern::several;
  }

  const GroundRules& ground_;
  const JobFacts& facts_;
  const evaluation::Evaluation& states_;
  std::vector<Break> breaks_;
};

}  // namespace

std::vector<Comparison> comparisons(const GroundRules& ground, const JobFacts& facts,
                                    const evaluation::Evaluation& states) {
  if (!facts.ordered) return {};
  return Comparer(ground, facts, states).run();
}

}  // namespace slipcase::advice
