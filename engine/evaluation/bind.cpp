#include "evaluation/bind.h"

#include <fmt/core.h>

#include "evaluation/binder.h"
#include "evaluation/messages.h"

namespace slipcase::evaluation {

namespace {

bool says_nothing_to_rank_by(const facts::JobCard& card) {
  return card.complaint_findings.empty() && card.details.empty() && card.answers.empty() &&
         !card.codes && card.readings.empty() && card.events.empty() && card.checks.empty() &&
         card.repairs.empty() && !card.faulty;
}

}  // namespace

std::optional<JobFacts> bind(const grounding::GroundRules& rules, const facts::JobCard& card,
                             Diagnostics& diagnostics,
                             std::span<const facts::Supposition> supposed) {
  Diagnostics found;
  JobFacts facts = Binder(rules, card, found).bind(supposed);
  const bool good = !card.faulty && !found.has_errors();
  diagnostics.append(std::move(found));
  if (!good) return std::nullopt;
  return facts;
}

Binder::Binder(const grounding::GroundRules& rules, const facts::JobCard& card,
               Diagnostics& diagnostics)
    : rules_(rules), card_(card), diagnostics_(diagnostics), names_(rules, diagnostics) {}

JobFacts Binder::bind(std::span<const facts::Supposition> supposed) {
  size_up();
  day();
  if (!is_of_this_unit()) return std::move(facts_);
  members_not_driven();
  details();
  details_of_the_card();
  answers();
  events();
  checks();
  repairs();
  never();
  not_known();
  list_occurrences();
  readings();
  tie_times();
  codes();
  complaint();
  answer_others();
  suppose(supposed);
  outcome();
  return std::move(facts_);
}

void Binder::size_up() {
  facts_.answers.resize(rules_.findings.size());
  others_.resize(rules_.findings.size());
  facts_.details.resize(rules_.details.size());
  facts_.history.assign(rules_.events.size(), card_.history_complete);
  facts_.events_asked.resize(rules_.events.size());
  facts_.controllers_read.resize(rules_.profile->controllers.size());
}

/// The names on a card of another unit mean nothing here.
bool Binder::is_of_this_unit() {
  if (!card_.unit || card_.unit->text == rules_.profile->name) return true;
  diagnostics_.add(other_unit, card_.unit->place,
                   fmt::format("this card is for the unit `{}`, the profile for `{}`",
                               card_.unit->text, rules_.profile->name));
  return false;
}

void Binder::day() {
  if (card_.opened) {
    facts_.now.day = card_.opened->days_since_1970();
  } else if (!card_.opened_faulty) {
    std::string text =
        "the card does not say when the job was opened: add `opened: 2031-04-17`; how fresh a "
        "reading is counts from that day";
    if (says_nothing_to_rank_by(card_)) {
      text +=
          "; and below it what is known, as `complaint: { findings: [flare of 2-3] }`: the words "
          "of `text` are for people (docs/job-card.md)";
    }
    diagnostics_.add(not_opened, card_.place, text);
  }
  if (card_.vehicle.odometer) facts_.now.odometer = card_.vehicle.odometer->value;
}

}  // namespace slipcase::evaluation
