// Where a YAML value ends in its text: the library tells only where it begins.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

namespace slipcase::facts {

/// One past the closing quote of the text that begins at `begin` with `"` or `'`; nothing if there
/// is none.
[[nodiscard]] std::optional<std::size_t> end_of_quoted(std::string_view text, std::size_t begin);

/// End of a plain text that was folded into `value` (line breaks became blanks).
[[nodiscard]] std::size_t end_of_plain(std::string_view text, std::size_t begin,
                                       std::string_view value);

/// Offset of a tab in the indentation of the line that holds `at`, if only blanks stand before
/// `at`.
[[nodiscard]] std::optional<std::size_t> tab_before(std::string_view text, std::size_t at);

}  // namespace slipcase::facts
