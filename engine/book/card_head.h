// The head of a card without its long parts: a book of ten thousand is listed in a moment.
#pragma once

#include <optional>
#include <string_view>

#include "facts/document.h"

namespace slipcase::book {

/// The entries of the card's outermost map that a list needs (job, unit, vehicle, opened,
/// complaint, outcome), and nothing of the others but their keys. Nothing if the text is no map or
/// these parts cannot be read. Of a card in block form only those parts are parsed.
[[nodiscard]] std::optional<facts::Node> read_head(std::string_view text);

}  // namespace slipcase::book
