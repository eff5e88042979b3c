// Which cards a folder has, and which of them fit a question.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "facts/document.h"
#include "slipcase/book.h"

namespace slipcase::book {

/// Nothing if the tree is some other file: a profile, a list of costs.
[[nodiscard]] std::optional<BookCard> card_of(const facts::Node& head);

[[nodiscard]] bool fits(const BookCard& card, const BookQuery& query);

/// Newest first, then by file.
void sort_cards(std::vector<BookCard>& cards);

}  // namespace slipcase::book
