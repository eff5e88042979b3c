#include "drive/before_driving.h"

#include <algorithm>

#include <fmt/core.h>

#include "units/quantity.h"

namespace slipcase::drive {

namespace {

using evaluation::Order;
using evaluation::ReadingFact;
using grounding::GroundReading;

std::vector<DriveCaution> cautions_of(const CardFacts& card, const evaluation::Evaluation& states) {
  const grounding::GroundRules& rules = card.rules();
  const auto& declared = rules.rules->cautions;
  std::vector<DriveCaution> all;
  for (std::uint32_t c = 0; c < declared.size(); ++c) {
    DriveCaution caution{declared[c].header.name, declared[c].header.says, {}};
    for (std::uint32_t f = 0; f < rules.findings.size(); ++f) {
      const grounding::GroundFinding finding{f};
      if (states.findings[f].state != evaluation::State::present) continue;
      const auto& its = rules.declaration(finding).cautions;
      if (std::ranges::find(its, rulebase::CautionId{c}) != its.end())
        caution.seen.push_back(rules.says(finding));
    }
    if (!caution.seen.empty()) all.push_back(std::move(caution));
  }
  return all;
}

/// Certainly: what the card leaves open is no reason to keep silent.
bool began_anew_since(const CardFacts& card, GroundReading reading, std::size_t snapshot) {
  const grounding::GroundRules& rules = card.rules();
  return std::ranges::any_of(rules.resets, [&](const grounding::GroundReset& reset) {
    if (!rules.resets_reading(reset, reading)) return false;
    const auto [first, last] = card.facts().occurrences.range(reset.event.at());
    return std::any_of(first, last, [&](EventAt event) {
      return card.order_to_reading(event, snapshot) == Order::after;
    });
  });
}

std::optional<BeyondLimit> beyond_limit(const CardFacts& card, GroundReading reading,
                                        const ReadingFact& fact) {
  const auto& bounds = *card.rules().bounds[reading.at()];
  const bool high = fact.value >= bounds.high_limit;
  if (!high && fact.value > bounds.low_limit) return std::nullopt;
  const auto& origin = card.rules().readings.origins[reading.at()];
  const auto dimension = card.rules().rules->readings[origin.declaration].dimension;
  const double limit = high ? bounds.high_limit : bounds.low_limit;
  return BeyondLimit{
      fmt::format("{}: {}, its limit is {}", card.rules().name_of(reading),
                  units::to_text({fact.value, dimension}), units::to_text({limit, dimension})),
      fact.place ? card.place(*fact.place) : std::string()};
}

std::vector<BeyondLimit> values_beyond(const CardFacts& card) {
  std::vector<BeyondLimit> all;
  const evaluation::JobFacts& facts = card.facts();
  for (std::uint32_t r = 0; r < card.rules().readings.size(); ++r) {
    const GroundReading reading{r};
    if (!card.rules().bounds[r]) continue;
    for (std::size_t s = facts.snapshots.size(); s-- > 0;) {
      const ReadingFact& fact = facts.reading(reading, s);
      if (fact.said == ReadingFact::Said::nothing) continue;
      if (fact.said == ReadingFact::Said::value && !began_anew_since(card, reading, s)) {
        if (auto beyond = beyond_limit(card, reading, fact)) all.push_back(std::move(*beyond));
      }
      break;
    }
  }
  return all;
}

}  // namespace

BeforeDriving before_driving(const CardFacts& card, const evaluation::Evaluation& states) {
  return {cautions_of(card, states), values_beyond(card), !card.facts().repairs.empty()};
}

}  // namespace slipcase::drive
