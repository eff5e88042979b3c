// The little UTF-8 that reading and showing source text needs.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

namespace slipcase {

struct Character {
  char32_t code = 0;       // U+FFFD for a byte that is not UTF-8
  std::size_t length = 1;  // bytes; at least 1 so that a reader always moves on
};

/// The first character of `text` (not empty). Overlong forms, surrogates and values above U+10FFFF
/// are not UTF-8 (RFC 3629).
[[nodiscard]] Character decode(std::string_view text);

/// Offset of the first byte that is not UTF-8.
[[nodiscard]] std::optional<std::size_t> first_invalid(std::string_view text);

/// Columns a terminal gives the character: 0 for combining marks, 2 for East Asian wide, else 1.
[[nodiscard]] std::size_t display_width(char32_t code);

/// Valid UTF-8, without control characters and marks that turn the direction of writing.
[[nodiscard]] bool is_printable(std::string_view text);

}  // namespace slipcase
