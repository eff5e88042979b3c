#include "language/quotes.h"

#include <algorithm>

#include "support/utf8.h"

namespace slipcase::language {

std::optional<ClosingQuote> find_closing(std::string_view line, bool straight) {
  std::optional<ClosingQuote> other;
  for (std::size_t at = 0; at < line.size();) {
    const Character character = decode(line.substr(at));
    const bool curly = character.code == 0x201C || character.code == 0x201D;
    const ClosingQuote here{at, at + character.length};
    at += character.length;
    if (straight ? character.code == U'"' : curly) return here;
    if (straight ? curly : character.code == U'"' && !other) other = here;
  }
  // Within straight quotes a curly one closes only at the end of the line.
  if (!other || !straight || is_blank_text(line.substr(other->end))) return other;
  return std::nullopt;
}

std::size_t end_of_text_over_lines(std::string_view text, std::size_t line_end) {
  constexpr int most_lines = 10;
  std::size_t at = line_end;
  for (int line = 0; line < most_lines && at < text.size(); ++line) {
    at += text.substr(at).starts_with("\r\n") ? 2 : 1;
    const std::size_t stop = std::min(text.find_first_of("\r\n", at), text.size());
    const auto content = text.substr(at, stop - at);
    const std::size_t quote = content.find('"');
    at = stop;
    if (quote != std::string_view::npos) {
      return is_blank_text(content.substr(quote + 1)) ? stop : line_end;
    }
  }
  return line_end;
}

bool is_blank_text(std::string_view text) {
  return text.find_first_not_of(" \t") == std::string_view::npos;
}

}  // namespace slipcase::language
