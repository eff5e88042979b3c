// New sessions held against those of the card.
#pragma once

#include <span>
#include <vector>

#include "book/reading_session.h"
#include "evaluation/job_facts.h"
#include "slipcase/add_reading.h"

namespace slipcase::book {

/// Reports every value that the card has otherwise, and what looks odd beside it; sessions come
/// back in their order.
[[nodiscard]] std::vector<AddedSession> compare_with_card(const grounding::GroundRules& rules,
                                                          const evaluation::JobFacts& facts,
                                                          const std::vector<ReadSession>& sessions,
                                                          Diagnostics& diagnostics);

/// An entry of `readings` for each session that has something new.
[[nodiscard]] std::vector<CardChange> changes_for(const grounding::GroundRules& rules,
                                                  const std::vector<ReadSession>& sessions,
                                                  std::span<const AddedSession> added);

}  // namespace slipcase::book
