// The cards of one vehicle as one card of its history.
#pragma once

#include <vector>

#include "facts/job_card.h"
#include "slipcase/diagnostic.h"

namespace slipcase::book {

struct MergedCard {
  facts::JobCard card;
  std::size_t disagreements = 0;
};

/// Readings, events and repairs of all cards, what stands on two of them once. "Now", the vehicle
/// and how much of the history is known are those of the card that was opened last. What belongs to
/// one visit (complaint, answers, codes, checks, outcome) is left out. Two cards that give the same
/// reading of the same session differently are reported, and neither value is taken. `cards`: at
/// least one, none of them faulty.
[[nodiscard]] MergedCard merge_cards(std::vector<facts::JobCard> cards, Diagnostics& diagnostics);

/// When two cards speak of the same moment: nothing that both say differs, and the day or the
/// odometer is on both; or neither says anything.
[[nodiscard]] bool is_same_time(const facts::CardTime& a, const facts::CardTime& b);

}  // namespace slipcase::book
