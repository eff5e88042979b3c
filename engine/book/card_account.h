// A card as people read it.
#pragma once

#include "facts/document.h"
#include "grounding/ground.h"
#include "slipcase/book.h"

namespace slipcase::book {

/// `root` is the tree of the card, `head` what a list shows of it. Quantities and days stand as
/// they are written, names that the rules do not know as well.
[[nodiscard]] CardAccount account(const facts::Node& root, BookCard head,
                                  const grounding::GroundRules& ground);

}  // namespace slipcase::book
