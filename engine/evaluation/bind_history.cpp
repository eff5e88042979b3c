// Binder: events, checks and repairs, and what certainly never happened.
#include <algorithm>

#include <fmt/core.h>

#include "evaluation/binder.h"
#include "evaluation/messages.h"

namespace slipcase::evaluation {

void Binder::event(GroundEvent event, const facts::CardTime& when, facts::Hand by,
                   const Place& place) {
  facts_.events.push_back({event, by, place});
  facts_.event_times.push_back(moment_of(when));
  event_card_times_.push_back(&when);
}

void Binder::events() {
  for (const auto& said : card_.events) {
    const auto ground = names_.ground(CardKind::event, said.what);
    if (ground) {
      event(GroundEvent{*ground}, said.when, said.by, said.place);
    } else {
      unbound_times_.push_back(&said.when);
    }
  }
}

std::vector<std::uint32_t> Binder::members_checked(const Declared& check,
                                                   const facts::DoneCheck& done) {
  const auto scope = check.header->scope;
  const bool found_faulty = done.answer && done.answer->faulty;
  std::vector<std::uint32_t> checked;
  if (!scope || done.done.member || (done.found.empty() && !found_faulty)) {
    if (const auto one = names_.ground(CardKind::check, done.done)) checked.push_back(*one);
    return checked;
  }
  const auto add = [&](const facts::Scalar& name) {
    const auto member = rules_.rules->unit.find_member(*scope, name.text);
    if (member) checked.push_back(check.ground(member));
  };
  for (const auto& entry : done.found) {
    const auto* values =
        std::get_if<std::vector<std::pair<facts::Scalar, facts::Scalar>>>(&entry.value);
    if (values == nullptr) {
      add(entry.name);
    } else if (entry.name.text == check.header->name) {
      for (const auto& [name, value] : *values) add(name);
    }
  }
  return checked;
}

/// A check is done by us, of one member, or of those whose results it gives.
void Binder::checks() {
  for (std::uint32_t i = 0; i < card_.checks.size(); ++i) {
    const auto& done = card_.checks[i];
    const auto declared = names_.declared(CardKind::check, done.done.name);
    if (!declared) {
      unbound_times_.push_back(&done.when);
      continue;
    }
    const std::vector<std::uint32_t> grounds = members_checked(*declared, done);
    if (grounds.empty()) unbound_times_.push_back(&done.when);
    const auto event_id = rules_.rules->checks[declared->index].event;
    for (const std::uint32_t ground : grounds) {
      facts_.checks.push_back({GroundCheck{ground}, i});
      const auto member = rules_.checks.origins[ground].member;
      event(GroundEvent{rules_.events.at(event_id.index, member)}, done.when, facts::Hand::us,
            done.place);
    }
    found(done, declared->index);
  }
}

void Binder::repairs() {
  for (std::uint32_t i = 0; i < card_.repairs.size(); ++i) {
    const auto& done = card_.repairs[i];
    const auto ground = names_.ground(CardKind::repair, done.done);
    if (!ground) {
      unbound_times_.push_back(&done.when);
      continue;
    }
    const auto& origin = rules_.repairs.origins[*ground];
    const auto event_id = rules_.rules->repairs[origin.declaration].event;
    const auto at = static_cast<std::uint32_t>(facts_.events.size());
    facts_.repairs.push_back({GroundRepair{*ground}, i, at, done.complaint});
    event(GroundEvent{rules_.events.at(event_id.index, origin.member)}, done.when, facts::Hand::us,
          done.place);
  }
}

/// What never happened never did under the name of anything that counts as it.
void Binder::never() {
  for (const auto& reference : card_.never) {
    for (const std::uint32_t ground : names_.all_ground(CardKind::event, reference)) {
      const auto counts = [&](GroundEvent event) {
        const auto& as = rules_.counts_as[event.at()];
        return std::ranges::find(as, GroundEvent{ground}) != as.end();
      };
      for (std::uint32_t event = 0; event < rules_.events.size(); ++event) {
        if (counts(GroundEvent{event})) facts_.history[event] = true;
      }
      for (const EventFact& fact : facts_.events) {
        if (!counts(fact.event)) continue;
        diagnostics_
            .add(happened_never, reference.place,
                 fmt::format("`{}` is said never to have happened, but `{}` is on the card",
                             rules_.name_of(GroundEvent{ground}), rules_.name_of(fact.event)))
            .notes.push_back({fact.place, "it is here"});
      }
    }
  }
}

/// It changes nothing of what is known: only nobody asks again.
void Binder::not_known() {
  for (const auto& reference : card_.not_known)
    for (const std::uint32_t ground : names_.all_ground(CardKind::event, reference))
      facts_.events_asked[ground] = true;
}

void Binder::list_occurrences() {
  std::vector<std::pair<std::uint32_t, std::uint32_t>> pairs;
  for (std::uint32_t i = 0; i < facts_.events.size(); ++i) {
    for (const GroundEvent as : rules_.counts_as[facts_.events[i].event.at()]) {
      pairs.emplace_back(as.index, i);
    }
  }
  facts_.occurrences = grounding::lists_from(rules_.events.size(), pairs);
}

void Binder::outcome() {
  if (!card_.outcome) return;
  const auto bound = [&](const std::vector<facts::CardReference>& list,
                         std::vector<GroundCause>& out) {
    for (const auto& reference : list) {
      if (const auto cause = names_.ground(CardKind::cause, reference)) {
        out.push_back(GroundCause{*cause});
      }
    }
  };
  bound(card_.outcome->confirmed, facts_.confirmed);
  bound(card_.outcome->sound, facts_.sound);
  for (const GroundCause cause : facts_.confirmed) {
    if (std::ranges::find(facts_.sound, cause) == facts_.sound.end()) continue;
    diagnostics_.add(
        confirmed_and_sound, card_.outcome->confirmed.front().place,
        fmt::format("`{}` stands under `confirmed` and under `sound`", rules_.name_of(cause)));
  }
}

}  // namespace slipcase::evaluation
