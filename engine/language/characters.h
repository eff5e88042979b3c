// What a character is for the rule language, however a phone or a word processor spells it.
#pragma once

#include <optional>
#include <string_view>

namespace slipcase::language {

/// Space, tab, no-break and the other spaces of Unicode; not line ends.
[[nodiscard]] bool is_blank(char32_t code);
/// Hyphen, no-break hyphen, figure dash, en dash, minus sign: all mean `-`.
[[nodiscard]] bool is_dash(char32_t code);
[[nodiscard]] bool is_double_quote(char32_t code);
[[nodiscard]] bool is_single_quote(char32_t code);
/// Control characters and characters that cannot be seen; not line ends and blanks.
[[nodiscard]] bool is_unseen(char32_t code);
/// Letters of any script, digits, `_`, `°`.
[[nodiscard]] bool is_word_character(char32_t code);
[[nodiscard]] bool is_letter_or_digit(char32_t code);

/// A sign of the language or one that people write in its place.
struct SymbolEntry {
  std::string_view written;
  std::string_view meant;   // a symbol or a word of the language; empty: nothing, it is left out
  std::string_view advice;  // empty: fine as it is
};
/// The longest entry that `text` starts with.
[[nodiscard]] const SymbolEntry* find_symbol(std::string_view text);

}  // namespace slipcase::language
