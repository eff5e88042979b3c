#include "drive/card_facts.h"

#include <algorithm>

#include "evaluation/card_names.h"
#include "units/date.h"
#include "units/quantity.h"

namespace slipcase::drive {

using evaluation::CardKind;
using evaluation::Order;

namespace {

std::optional<evaluation::Declared> declared(const grounding::GroundRules& rules, CardKind kind,
                                             const std::string& name) {
  Diagnostics none;  // `find` says nothing
  return evaluation::CardNames(rules, none).find(kind, name);
}

}  // namespace

std::vector<EventAt> CardFacts::occurrences(std::uint32_t ground) const {
  const auto [first, last] = facts_.occurrences.range(ground);
  return {first, last};
}

std::optional<std::vector<EventAt>> CardFacts::event_named(const std::string& name) const {
  const auto found = declared(rules_, CardKind::event, name);
  if (!found || found->header->scope) return std::nullopt;
  return occurrences(found->ground(std::nullopt));
}

std::optional<std::vector<EventAt>> CardFacts::check_named(const std::string& name) const {
  const auto found = declared(rules_, CardKind::check, name);
  if (!found || found->header->scope) return std::nullopt;
  const auto event = rules_.rules->checks[found->index].event;
  return occurrences(rules_.events.at(event.index, std::nullopt));
}

std::optional<std::vector<EventAt>> CardFacts::repair_named(const std::string& name) const {
  const auto found = declared(rules_, CardKind::repair, name);
  if (!found || found->header->scope) return std::nullopt;
  const auto event = rules_.rules->repairs[found->index].event;
  return occurrences(rules_.events.at(event.index, std::nullopt));
}

const evaluation::Answer* CardFacts::answer_named(const std::string& name) const {
  const auto found = declared(rules_, CardKind::finding, name);
  if (!found || found->header->scope) return nullptr;
  return &facts_.answers[found->ground(std::nullopt)];
}

Order CardFacts::order(EventAt first, EventAt second) const {
  return evaluation::compare(facts_.event_times[first], facts_.event_times[second],
                             facts_.event_times);
}

Order CardFacts::order_to_now(EventAt event) const {
  return evaluation::compare(facts_.event_times[event], facts_.now, facts_.event_times);
}

std::optional<EventAt> CardFacts::latest(const std::vector<EventAt>& events) const {
  std::optional<EventAt> latest;
  for (const EventAt event : events) {
    if (!latest || order(event, *latest) != Order::before) latest = event;
  }
  return latest;
}

std::string CardFacts::when(const evaluation::Moment& moment) {
  std::string text;
  if (moment.day) text = units::Date::from_days_since_1970(*moment.day).text();
  if (moment.odometer) {
    text += (text.empty() ? "" : ", ") +
            units::to_text({*moment.odometer, units::find_unit("km")->dimension});
  }
  return text;
}

std::string CardFacts::when(EventAt event) const { return when(facts_.event_times[event]); }

std::string CardFacts::place(EventAt event) const {
  return sources_.describe(facts_.events[event].place);
}

}  // namespace slipcase::drive
