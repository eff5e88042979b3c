// The cards of one vehicle, and what their readings do together.
#include "slipcase/trend.h"

#include <algorithm>

#include "api/parts.h"
#include "book/merge_cards.h"
#include "book/vehicle_trend.h"
#include "evaluation/bind.h"
#include "facts/document.h"
#include "facts/job_card.h"
#include "support/ascii.h"
#include "support/listed.h"
#include "support/near_names.h"

namespace slipcase {

struct Vehicle::Parts {
  std::string ref;
  std::size_t cards = 0;
  std::vector<std::string> left_out;
  std::size_t disagreements = 0;
  bool miles = false;
  facts::JobCard card;  // merged
  evaluation::JobFacts facts;
  book::AsideThen aside_then;
};

namespace {

std::string_view without_blanks(std::string_view text) {
  constexpr std::string_view blanks = " \t\r\n";
  const std::size_t first = text.find_first_not_of(blanks);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

/// As two cards may write the same vehicle.
std::string vehicle_key(std::string_view ref) { return in_small_letters(without_blanks(ref)); }

}  // namespace

std::optional<std::string> vehicle_named_in(std::string_view text) {
  SourceSet sources;
  Diagnostics ignored;
  const SourceId source = sources.add("card", std::string(text));
  const auto document = facts::read_document(sources, source, facts::card_limits, ignored);
  const facts::Node* vehicle = document ? document->find("vehicle") : nullptr;
  const facts::Node* ref = vehicle != nullptr ? vehicle->find("ref") : nullptr;
  if (ref == nullptr || ref->kind != facts::NodeKind::scalar) return std::nullopt;
  return std::string(without_blanks(ref->text));
}

bool is_same_vehicle(std::string_view a, std::string_view b) {
  return vehicle_key(a) == vehicle_key(b);
}

std::vector<std::string> nearest_vehicles(std::string_view ref, std::span<const std::string> refs) {
  std::vector<std::string> near = near_names(ref, refs).names;
  constexpr std::size_t few = 6;
  if (near.empty() && refs.size() <= few) near.assign(refs.begin(), refs.end());
  return near;
}

namespace {

/// The cards that can be used, oldest first.
std::vector<facts::JobCard> usable_cards(std::vector<CardText> texts,
                                         const Knowledge::Parts& knowledge,
                                         std::vector<std::string>& left_out,
                                         Diagnostics& diagnostics) {
  std::vector<facts::JobCard> cards;
  for (CardText& text : texts) {
    const std::string name = text.name;
    const SourceId source = knowledge.sources->add(std::move(text.name), std::move(text.text));
    auto card = facts::read_job_card(*knowledge.sources, source, diagnostics);
    if (card && evaluation::bind(*knowledge.ground, *card, diagnostics)) {
      cards.push_back(std::move(*card));
    } else {
      left_out.push_back(name);
    }
  }
  std::ranges::stable_sort(cards, {}, [](const facts::JobCard& card) { return card.opened; });
  return cards;
}

/// What codes and answers of a visit say against its readings. Older readings on the card were
/// judged when they were taken.
void note_aside(const evaluation::JobFacts& facts, const Knowledge::Parts& knowledge,
                book::AsideThen& aside) {
  const auto& ground = *knowledge.ground;
  const evaluation::Evaluation states = evaluation::evaluate(knowledge.ground, facts);
  for (std::size_t d = 0; d < states.distrusts.size(); ++d) {
    const auto& distrust = ground.distrusts[d];
    const auto& declared = ground.rules->distrusts.at(distrust.declaration);
    if (declared.asked_per_snapshot) continue;  // asked of all cards together
    for (const std::uint32_t snapshot : states.distrusts[d].snapshots) {
      const auto& when = facts.snapshots[snapshot].when;
      if (when.day && facts.now.day && *when.day < *facts.now.day) continue;
      for (const auto reading : distrust.readings)
        aside.emplace(std::pair(facts.snapshots[snapshot].place, reading.index), declared.because);
    }
  }
}

/// Each visit with its own codes and answers, and with what had happened by then on any card.
book::AsideThen aside_then(const std::vector<facts::JobCard>& cards,
                           const Knowledge::Parts& knowledge) {
  book::AsideThen aside;
  for (std::size_t i = 0; i < cards.size(); ++i) {
    const auto end = cards.begin() + static_cast<std::ptrdiff_t>(i) + 1;
    Diagnostics told_already;
    facts::JobCard history =
        book::merge_cards(std::vector<facts::JobCard>(cards.begin(), end), told_already).card;
    facts::JobCard visit = cards[i];
    visit.events = std::move(history.events);
    visit.repairs = std::move(history.repairs);
    visit.never = std::move(history.never);
    if (const auto bound = evaluation::bind(*knowledge.ground, visit, told_already))
      note_aside(*bound, knowledge, aside);
  }
  return aside;
}

}  // namespace

TrendLoad load_vehicle(std::vector<CardText> cards, const Knowledge& knowledge,
                       Diagnostics& diagnostics) {
  const Knowledge::Parts& parts = knowledge.parts();
  auto vehicle = std::make_shared<Vehicle::Parts>();
  auto read = usable_cards(std::move(cards), parts, vehicle->left_out, diagnostics);
  TrendLoad load;
  vehicle->cards = read.size();
  if (!read.empty()) {
    vehicle->aside_then = aside_then(read, parts);
    book::MergedCard merged = book::merge_cards(std::move(read), diagnostics);
    vehicle->disagreements = merged.disagreements;
    vehicle->card = std::move(merged.card);
    if (vehicle->card.vehicle.ref) vehicle->ref = vehicle->card.vehicle.ref->text;
    vehicle->miles = book::in_miles(*parts.sources, vehicle->card);
    auto bound = evaluation::bind(*parts.ground, vehicle->card, diagnostics);
    if (bound) vehicle->facts = std::move(*bound);
    const bool all = bound && vehicle->left_out.empty();
    if (all) load.outcome = Loaded::good;
    if (bound) load.vehicle = Vehicle(std::move(vehicle));
  }
  diagnostics.sort();
  diagnostics = listed(diagnostics);
  return load;
}

VehicleTrend trend(const Knowledge& knowledge, const Vehicle& vehicle) {
  Knowledge::Parts& parts = knowledge.parts();
  const Vehicle::Parts& own = vehicle.parts();
  const evaluation::Evaluation& states = parts.evaluator.evaluate(own.facts);
  VehicleTrend told =
      book::vehicle_trend({*parts.ground, own.card, own.facts, states, own.aside_then}, own.miles);
  told.vehicle = own.ref;
  told.cards = own.cards;
  told.left_out = own.left_out;
  told.disagreements = own.disagreements;
  return told;
}

}  // namespace slipcase
