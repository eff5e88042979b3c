// Rule text to tokens: one pass over the bytes, places into the text as it was written.
#pragma once

#include <cstdint>
#include <deque>
#include <string>
#include <string_view>
#include <vector>

#include "language/ast.h"
#include "language/reporter.h"
#include "slipcase/source.h"

namespace slipcase::language {

enum class TokenKind : std::uint8_t {
  word,    // the longest run of letters, digits, `_` and inner `-` `.` `/`
  text,    // quoted; the spelling is without the quotes
  symbol,  // ( ) , : % < <= > >= =
  end,     // behind the last one
};

struct Token {
  TokenKind kind = TokenKind::end;
  bool first_on_line = false;
  bool reserved = false;
  bool guessed = false;       // stands for a sign that was reported
  std::uint32_t column = 1;   // in characters
  Place place;                // of a text: with its quotes
  std::string_view spelling;  // `2–3` is spelt `2-3` here, `≥` is `>=`

  [[nodiscard]] bool is_word(std::string_view word) const {
    return kind == TokenKind::word && spelling == word;
  }
  [[nodiscard]] bool is_symbol(std::string_view symbol) const {
    return kind == TokenKind::symbol && spelling == symbol;
  }
};

/// Readers look at up to two tokens behind the one they are at.
inline constexpr std::size_t end_tokens = 3;

/// The tokens of one text, with `end` tokens last. Spellings look into the text or into `respelt`.
struct Tokens {
  std::vector<Token> list;
  std::vector<Comment> comments;
  std::deque<std::string> respelt;
};

/// Parentheses within parentheses: more are refused here, so that no later stage recurses deeper.
inline constexpr std::size_t most_nesting = 200;

[[nodiscard]] Tokens read_tokens(std::string_view text, SourceId source, Reporter& reporter);

}  // namespace slipcase::language
