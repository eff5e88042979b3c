// Binder: when things were, and what that says about each other.
#include <algorithm>

#include <fmt/core.h>

#include "evaluation/binder.h"
#include "evaluation/messages.h"

namespace slipcase::evaluation {

Moment Binder::moment_of(const facts::CardTime& when) {
  Moment moment;
  if (when.moment) {
    moment.day = when.moment->date.days_since_1970();
    moment.minute = when.moment->minute;
  }
  if (when.odometer) moment.odometer = when.odometer->value;
  return moment;
}

void Binder::follow() {
  for (auto& snapshot : facts_.snapshots) {
    follow(snapshot.when, card_.readings[snapshot.on_card].when, std::nullopt);
  }
  for (std::uint32_t i = 0; i < facts_.events.size(); ++i) {
    follow(facts_.event_times[i], *event_card_times_[i], i);
  }
  // Of an event that is not known, what it is `after` is still to be checked.
  for (const facts::CardTime* when : unbound_times_) {
    if (when->after) (void)names_.ground(CardKind::event, *when->after);
  }
  refuse_circles();
}

/// Whether something is on one day, or at one odometer, with another, as far as can be read.
bool Binder::is_together(const facts::CardTime& when, const facts::CardTime& other) {
  if (when.faulty || other.faulty) return true;
  const Moment a = moment_of(when);
  const Moment b = moment_of(other);
  return (a.day && a.day == b.day) || (a.odometer && a.odometer == b.odometer);
}

/// The last event of that day, or at that odometer, that is what `after` names.
void Binder::follow(Moment& moment, const facts::CardTime& when,
                    std::optional<std::uint32_t> self) {
  if (!when.after) return;
  const auto ground = names_.ground(CardKind::event, *when.after);
  if (!ground) return;
  bool doubtful = card_.events_lost || when.faulty;
  const auto [begin, end] = facts_.occurrences.range(*ground);
  for (const auto* event = begin; event != end; ++event) {
    const Moment& other = facts_.event_times[*event];
    const bool same_day = moment.day && moment.day == other.day;
    const bool same_odometer = moment.odometer && moment.odometer == other.odometer;
    if (*event != self && (same_day || same_odometer)) moment.follows = *event;
    doubtful = doubtful || event_card_times_[*event]->faulty;
  }
  for (const facts::CardTime* unbound : unbound_times_) {
    doubtful = doubtful || is_together(when, *unbound);
  }
  if (moment.follows || doubtful) return;
  diagnostics_.add(after_nothing, when.after->place,
                   fmt::format("the card has no `{}` on that day or at that odometer",
                               rules_.name_of(GroundEvent{*ground})));
}

void Binder::refuse_circles() {
  for (std::uint32_t i = 0; i < facts_.event_times.size(); ++i) {
    std::optional<std::uint32_t> at = facts_.event_times[i].follows;
    for (std::size_t steps = 0; at && *at != i && steps < facts_.event_times.size(); ++steps) {
      at = facts_.event_times[*at].follows;
    }
    if (at != i) continue;
    diagnostics_.add(after_in_circle, event_card_times_[i]->after->place,
                     fmt::format("`{}` is marked as being after something that is after it",
                                 rules_.name_of(facts_.events[i].event)));
    // Later steps walk along these marks.
    facts_.event_times[i].follows.reset();
  }
}

void Binder::flag_falls(const std::vector<Moment*>& moments) {
  const auto place = [&](std::size_t i) {
    if (i == 0) return card_.vehicle.odometer_place.value_or(card_.opened_place);
    const std::size_t snapshots = facts_.snapshots.size();
    return i <= snapshots ? facts_.snapshots[i - 1].place : facts_.events[i - 1 - snapshots].place;
  };
  const auto text = [&](std::size_t i) {
    return units::to_text({*moments[i]->odometer, units::of(units::Base::distance)});
  };
  for (const OdometerFall& fall : tie_together(moments)) {
    diagnostics_
        .add(odometer_falls, place(fall.to),
             fmt::format("the odometer falls from {} to {}: distances across this are unknown",
                         text(fall.from), text(fall.to)))
        .notes.push_back({place(fall.from), "it was higher here, earlier by date"});
  }
}

void Binder::tie_times() {
  const std::size_t snapshots = facts_.snapshots.size();
  facts_.event_order.resize(facts_.events.size() * snapshots);
  for (std::size_t e = 0; e < facts_.events.size(); ++e) {
    for (std::size_t s = 0; s < snapshots; ++s) {
      facts_.event_order[e * snapshots + s] =
          compare(facts_.event_times[e], facts_.snapshots[s].when, facts_.event_times);
    }
  }
  flag_late();
}

/// Work goes on after the day a job is opened; before any is recorded, a later date is a slip.
void Binder::flag_late() {
  const bool work_done = !card_.checks.empty() || !card_.repairs.empty() || card_.outcome;
  if (work_done || card_.faulty || !facts_.now.day) return;
  const auto flag = [&](const Moment& moment, const Place& place) {
    if (!moment.day || *moment.day <= *facts_.now.day) return;
    diagnostics_.add(
        after_opened, place,
        fmt::format("this is dated after {}, the day the job was opened", card_.opened->text()));
  };
  for (const auto& snapshot : facts_.snapshots) flag(snapshot.when, snapshot.place);
  for (std::size_t i = 0; i < facts_.events.size(); ++i) {
    flag(facts_.event_times[i], facts_.events[i].place);
  }
}

}  // namespace slipcase::evaluation
