// Readings as somebody types them: "fill_pressure of K1=40 mbar".
#pragma once

#include <span>

#include "book/reading_session.h"

namespace slipcase::book {

/// Each text is a source of its own, so that a message can point into it. What is wrong was
/// reported and is left out.
void read_by_hand(const grounding::GroundRules& rules, const SourceSet& sources,
                  std::span<const SourceId> values, ReadSession& session, Diagnostics& diagnostics);

}  // namespace slipcase::book
