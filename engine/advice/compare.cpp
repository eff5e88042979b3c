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
    if (moment.odometer)
      text += (text.empty() ? "" : ", ") +
              units::to_text({*moment.odometer, units::find_unit("km")->dimension});
    return text;
  }

  /// Over the members of one kind of reading, where there are at least three that can be told.
  static std::vector<ReadingPattern> patterns(const Comparison& comparison) {
    struct Told {
      std::size_t all = 0;
      std::vector<std::string> back, moved;
    };
    std::vector<std::string> order;
    std::map<std::string, Told> kinds;
    for (const ComparedReading& one : comparison.readings) {
      if (one.member.empty() || !is_told(one.change)) continue;
      if (!kinds.contains(one.kind)) order.push_back(one.kind);
      Told& told = kinds[one.kind];
      ++told.all;
      if (is_back(one.change)) told.back.push_back(one.member);
      if (one.change == ReadingChange::nearer || one.change == ReadingChange::further)
        told.moved.push_back(one.member);
    }
    std::vector<ReadingPattern> result;
    for (const std::string& kind : order) {
      const Told& told = kinds[kind];
      if (told.all < 3) continue;
      result.push_back({kind, pattern(told.back.size(), told.all),
                        pattern(told.moved.size(), told.all),
                        told.back.empty() ? told.moved : told.back});
    }
    return result;
  }

  static bool is_told(ReadingChange change) {
    return change != ReadingChange::unknown && change != ReadingChange::new_start &&
           change != ReadingChange::not_yet;
  }
  static bool is_back(ReadingChange change) {
    return change == ReadingChange::came_back || change == ReadingChange::partly_back ||
           change == ReadingChange::grown;
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
