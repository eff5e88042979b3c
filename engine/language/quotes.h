// Where texts in quotes end.
#pragma once

#include <cstddef>
#include <optional>
#include <string_view>

namespace slipcase::language {

struct ClosingQuote {
  std::size_t begin = 0;
  std::size_t end = 0;
};

/// The quote that closes a text, in the rest of its line. A straight quote is closed by a straight
/// one, so that curly ones can stand inside, and the other way round. Where an editor replaced only
/// one of the two, the other kind closes as well.
[[nodiscard]] std::optional<ClosingQuote> find_closing(std::string_view line, bool straight);

/// Somebody may have broken a long text into lines. If, behind the line that ends at `line_end`,
/// the next line with a straight quote has one alone and ends with it, all up to there is that
/// text: the offset behind it. Else `line_end`.
[[nodiscard]] std::size_t end_of_text_over_lines(std::string_view text, std::size_t line_end);

/// Blanks and tabs, or nothing.
[[nodiscard]] bool is_blank_text(std::string_view text);

}  // namespace slipcase::language
