// The cards of one vehicle, and what their readings do together.
#include "slipcase/trend.h"

#include "api/parts.h"
#include "book/merge_cards.h"
#include "book/vehicle_trend.h"
#include "evaluation/bind.h"
#include "facts/document.h"
#include "facts/job_card.h"
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
std::string vehicle_key(std::string_view ref) {
  std::string key(without_blanks(ref));
  for (char& letter : key)
    if (letter >= 'A' && letter <= 'Z') letter = static_cast<char>(letter - 'A' + 'a');
  return key;
}

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

/// A card by itself: what its own visit says against its readings.
class VisitLoader {
 public:
  VisitLoader(const Knowledge::Parts& knowledge, Diagnostics& diagnostics)
      : knowledge_(knowledge), diagnostics_(diagnostics) {}

  void load(CardText text, Vehicle::Parts& vehicle) {
    const std::string name = text.name;
    const SourceId source = knowledge_.sources->add(std::move(text.name), std::move(text.text));
    auto card = facts::read_job_card(*knowledge_.sources, source, diagnostics_);
    const auto bound =
        card ? evaluation::bind(*knowledge_.ground, *card, diagnostics_) : std::nullopt;
    if (!bound) {
      vehicle.left_out.push_back(name);
      return;
    }
    note_aside(*bound, vehicle.aside_then);
    cards_.push_back(std::move(*card));
  }

  [[nodiscard]] std::vector<facts::JobCard>& cards() { return cards_; }

 private:
  /// What hangs on codes and answers is asked of the readings of that visit alone: older ones on
  /// the card were judged when they were taken. What hangs on history and readings is asked of all
  /// cards together.
  void note_aside(const evaluation::JobFacts& facts, book::AsideThen& aside) const {
    const auto& ground = *knowledge_.ground;
    const evaluation::Evaluation states = evaluation::evaluate(knowledge_.ground, facts);
    for (std::size_t d = 0; d < states.distrusts.size(); ++d) {
      const auto& distrust = ground.distrusts[d];
      const auto& declared = ground.rules->distrusts.at(distrust.declaration);
      if (declared.asked_per_snapshot) continue;
      for (const std::uint32_t snapshot : states.distrusts[d].snapshots) {
        const auto& when = facts.snapshots[snapshot].when;
        if (when.day && facts.now.day && *when.day < *facts.now.day) continue;
        for (const auto reading : distrust.readings)
          aside.emplace(std::pair(facts.snapshots[snapshot].place, reading.index),
                        declared.because);
      }
    }
  }

  const Knowledge::Parts& knowledge_;
  Diagnostics& diagnostics_;
  std::vector<facts::JobCard> cards_;
};

}  // namespace

TrendLoad load_vehicle(std::vector<CardText> cards, const Knowledge& knowledge,
                       Diagnostics& diagnostics) {
  const Knowledge::Parts& parts = knowledge.parts();
  auto vehicle = std::make_shared<Vehicle::Parts>();
  VisitLoader loader(parts, diagnostics);
  for (CardText& card : cards) loader.load(std::move(card), *vehicle);
  TrendLoad load;
  vehicle->cards = loader.cards().size();
  if (vehicle->cards > 0) {
    book::MergedCard merged = book::merge_cards(std::move(loader.cards()), diagnostics);
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
