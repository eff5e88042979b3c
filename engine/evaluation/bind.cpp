#include "evaluation/bind.h"

#include <fmt/core.h>

#include "evaluation/binder.h"
#include "evaluation/messages.h"

namespace slipcase::evaluation {

std::optional<JobFacts> bind(const grounding::GroundRules& rules, const facts::JobCard& card,
                             Diagnostics& diagnostics) {
  Diagnostics found;
  JobFacts facts = Binder(rules, card, found).bind();
  const bool good = !found.has_errors();
  diagnostics.append(std::move(found));
  if (!good) return std::nullopt;
  return facts;
}

Binder::Binder(const grounding::GroundRules& rules, const facts::JobCard& card,
               Diagnostics& diagnostics)
    : rules_(rules), card_(card), diagnostics_(diagnostics), names_(rules, diagnostics) {}

JobFacts Binder::bind() {
  size_up();
  unit_and_day();
  members_not_driven();
  details();
  details_of_the_card();
  answers();
  events();
  checks();
  repairs();
  never();
  list_occurrences();
  readings();
  tie_times();
  codes();
  complaint();
  outcome();
  return std::move(facts_);
}

void Binder::size_up() {
  facts_.answers.resize(rules_.findings.size());
  facts_.details.resize(rules_.details.size());
  facts_.history.assign(rules_.events.size(), card_.history_complete);
  facts_.controllers_read.resize(rules_.profile->controllers.size());
}

void Binder::unit_and_day() {
  if (card_.unit && card_.unit->text != rules_.profile->name) {
    diagnostics_.add(other_unit, card_.unit->place,
                     fmt::format("this card is for the unit `{}`, the profile for `{}`",
                                 card_.unit->text, rules_.profile->name));
  }
  if (card_.opened) {
    facts_.now.day = card_.opened->days_since_1970();
  } else {
    diagnostics_.add(not_opened, card_.place,
                     "the card does not say when the job was opened: add `opened: 2031-04-17`; how "
                     "fresh a reading is counts from that day");
  }
  if (card_.vehicle.odometer) facts_.now.odometer = card_.vehicle.odometer->value;
}

}  // namespace slipcase::evaluation
