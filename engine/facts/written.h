// Values as YAML or JSON text.
#pragma once

#include <string>
#include <string_view>

#include "slipcase/card_value.h"

namespace slipcase::facts {

/// `quoted`: every text in double quotes, as JSON wants it.
enum class Quotes : std::uint8_t { where_needed, always };

/// A text that YAML reads back as the same text, in quotes where it has to.
[[nodiscard]] std::string written_text(std::string_view text, Quotes quotes);

/// On one line: `{ date: 2031-04-17, K2: 90 mbar }`, `[a, b]`.
[[nodiscard]] std::string written_inline(const CardValue& value, Quotes quotes);

/// The same, broken behind commas where it would pass the column `width`; it begins at `column`.
[[nodiscard]] std::string written_wrapped(const CardValue& value, Quotes quotes, std::size_t column,
                                          std::size_t width, std::string_view line_end);

}  // namespace slipcase::facts
