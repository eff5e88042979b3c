#include "facts/job_card.h"

#include <algorithm>
#include <utility>

#include <fmt/core.h>

#include "facts/card_messages.h"
#include "facts/card_reader.h"
#include "facts/document.h"
#include "facts/document_messages.h"
#include "facts/node_reader.h"

namespace slipcase::facts {

namespace {

void read_vehicle(const Node& node, JobCard& card, Diagnostics& diagnostics) {
  auto map = MapReader::of(node, "`vehicle`", diagnostics);
  if (!map) return;
  if (const Node* ref = map->optional("ref")) {
    card.vehicle.ref = read_scalar(*ref, "`ref`", diagnostics);
  }
  if (const Node* odometer = map->optional("odometer")) {
    card.vehicle.odometer = read_odometer(*odometer, diagnostics);
    card.vehicle.odometer_place = odometer->place;
  }
  map->finish();
}

void read_complaint(const Node& node, JobCard& card, Diagnostics& diagnostics) {
  auto map = MapReader::of(node, "`complaint`", diagnostics);
  if (!map) return;
  if (const Node* text = map->optional("text")) {
    if (auto scalar = read_scalar(*text, "`text`", diagnostics)) {
      card.complaint_text = std::move(scalar->text);
    }
  }
  if (const Node* findings = map->optional("findings")) {
    card.complaint_findings = read_references(*findings, "`findings`", diagnostics);
  }
  map->finish();
}

Outcome read_outcome(const Node& node, Diagnostics& diagnostics) {
  Outcome outcome;
  auto map = MapReader::of(node, "`outcome`", diagnostics);
  if (!map) return outcome;
  if (const Node* closed = map->optional("closed")) {
    outcome.closed = read_date(*closed, diagnostics);
    outcome.closed_place = closed->place;
  }
  if (const Node* confirmed = map->optional("confirmed")) {
    outcome.confirmed = read_references(*confirmed, "`confirmed`", diagnostics);
  }
  if (const Node* sound = map->optional("sound")) {
    outcome.sound = read_references(*sound, "`sound`", diagnostics);
  }
  if (const Node* note = map->optional("note")) {
    if (auto scalar = read_scalar(*note, "`note`", diagnostics))
      outcome.note = std::move(scalar->text);
  }
  map->finish();
  return outcome;
}

// Who, what and when the job is.
void read_head(MapReader& map, JobCard& card, Diagnostics& diagnostics) {
  if (const Node* job = map.optional("job")) card.job = read_scalar(*job, "`job`", diagnostics);
  if (const Node* unit = map.optional("unit"))
    card.unit = read_scalar(*unit, "`unit`", diagnostics);
  if (const Node* vehicle = map.optional("vehicle")) read_vehicle(*vehicle, card, diagnostics);
  if (const Node* opened = map.optional("opened")) {
    card.opened = read_date(*opened, diagnostics);
    card.opened_place = opened->place;
  }
  card.opened_faulty = !card.opened && map.is_meant("opened");
}

// What was said and asked.
void read_findings(MapReader& map, JobCard& card, Diagnostics& diagnostics) {
  if (const Node* complaint = map.optional("complaint")) {
    read_complaint(*complaint, card, diagnostics);
  }
  if (const Node* details = map.optional("details")) {
    card.details = read_entries(*details, "`details`", EntryNames::names, diagnostics);
  }
  if (const Node* answers = map.optional("answers")) {
    card.answers = read_entries(*answers, "`answers`", EntryNames::names, diagnostics);
  }
  if (const Node* codes = map.even_empty("codes")) card.codes = read_codes(*codes, diagnostics);
}

// An entry that is no group, or a list that is none, cannot be kept even as a faulty one.
bool is_lost(const MapReader& map, std::string_view key) {
  const Node* list = map.node().find(key);
  if (list == nullptr) return map.is_meant(key);
  return list->kind != NodeKind::list ||
         std::any_of(list->items.begin(), list->items.end(),
                     [](const Node& item) { return item.kind != NodeKind::map; });
}

// What was measured, done and found.
void read_history(MapReader& map, JobCard& card, Diagnostics& diagnostics) {
  card.events_lost = is_lost(map, "events") || is_lost(map, "checks") || is_lost(map, "repairs");
  if (const Node* node = map.optional("readings"))
    card.readings = read_readings(*node, diagnostics);
  if (const Node* node = map.optional("events")) card.events = read_events(*node, diagnostics);
  if (const Node* node = map.optional("history")) {
    card.history_complete =
        read_choice(*node, "`history`", {"partial", "complete"}, diagnostics) == 1U;
  }
  if (const Node* node = map.optional("never")) {
    card.never = read_references(*node, "`never`", diagnostics);
  }
  if (const Node* node = map.optional("not_known")) {
    card.not_known = read_references(*node, "`not_known`", diagnostics);
  }
  if (const Node* node = map.optional("not_driven")) {
    card.not_driven = read_scalars(*node, "`not_driven`", diagnostics);
  }
  if (const Node* node = map.optional("checks")) card.checks = read_checks(*node, diagnostics);
  if (const Node* node = map.optional("repairs")) card.repairs = read_repairs(*node, diagnostics);
  if (const Node* node = map.optional("outcome")) card.outcome = read_outcome(*node, diagnostics);
}

void refuse_closed_early(const JobCard& card, Diagnostics& diagnostics) {
  if (!card.opened || !card.outcome || !card.outcome->closed) return;
  if (*card.outcome->closed >= *card.opened) return;
  diagnostics
      .add(closed_early, card.outcome->closed_place,
           fmt::format("the job cannot be closed on {}, before {}, the day it was opened",
                       card.outcome->closed->text(), card.opened->text()))
      .notes.push_back({card.opened_place, "it was opened here"});
}

std::optional<JobCard> read_card(const Node& root, Diagnostics& diagnostics) {
  auto map = MapReader::of(root, "a job card", diagnostics);
  if (!map) return std::nullopt;
  JobCard card;
  card.place = head_of(root);
  read_head(*map, card, diagnostics);
  read_findings(*map, card, diagnostics);
  read_history(*map, card, diagnostics);
  map->finish();
  refuse_closed_early(card, diagnostics);
  return card;
}

/// Whoever opens an empty card wants to know how one begins.
Diagnostics with_first_lines(const Diagnostics& found) {
  Diagnostics told;
  for (const Diagnostic& message : found.list()) {
    const bool empty = message.name == document_empty.name;
    told.add({message.name, message.severity}, message.place,
             message.text + (empty ? ": a job card begins with lines such as `unit: six_speed`, "
                                     "`opened: 2031-04-17` (the day of the job) and `complaint: { "
                                     "findings: [flare of 2-3] }`; docs/job-card.md tells the rest"
                                   : ""))
        .notes = message.notes;
  }
  return told;
}

}  // namespace

std::optional<JobCard> read_job_card(const SourceSet& sources, SourceId source,
                                     Diagnostics& diagnostics) {
  // Its own list, so that what earlier stages reported neither fails this card nor is sorted again.
  Diagnostics found;
  std::optional<JobCard> card;
  if (const auto root = read_document(sources, source, card_limits, found)) {
    card = read_card(*root, found);
  } else {
    found = with_first_lines(found);
  }
  found.sort();
  if (card) card->faulty = found.has_errors();
  diagnostics.append(std::move(found));
  return card;
}

}  // namespace slipcase::facts
