#include "language/characters.h"

#include <algorithm>
#include <array>

namespace slipcase::language {

namespace {

bool is_ascii_letter_or_digit(char32_t code) {
  return (code >= U'0' && code <= U'9') || (code >= U'a' && code <= U'z') ||
         (code >= U'A' && code <= U'Z');
}

// Longer ones before shorter ones that start alike.
constexpr std::array symbols{
    SymbolEntry{"&&", "and", "write `and`"},
    SymbolEntry{"&", "and", "write `and`"},
    SymbolEntry{"||", "or", "write `or`"},
    SymbolEntry{"|", "or", "write `or`"},
    SymbolEntry{"===", "=", "write `=`, or `is` before a word"},
    SymbolEntry{"==", "=", "write `=`, or `is` before a word"},
    SymbolEntry{"=>", ">=", "write `>=`"},
    SymbolEntry{"=<", "<=", "write `<=`"},
    SymbolEntry{"!=", "=", "write `not ... = ...`, or `is not` before a word"},
    SymbolEntry{"<>", "=", "write `not ... = ...`, or `is not` before a word"},
    SymbolEntry{"≠", "=", "write `not ... = ...`, or `is not` before a word"},
    SymbolEntry{"!", "not", "write `not`"},
    SymbolEntry{">=", ">=", ""},
    SymbolEntry{"<=", "<=", ""},
    SymbolEntry{"≥", ">=", ""},
    SymbolEntry{"≤", "<=", ""},
    SymbolEntry{"⩾", ">=", ""},
    SymbolEntry{"⩽", "<=", ""},
    SymbolEntry{"<", "<", ""},
    SymbolEntry{">", ">", ""},
    SymbolEntry{"=", "=", ""},
    SymbolEntry{"(", "(", ""},
    SymbolEntry{")", ")", ""},
    SymbolEntry{",", ",", ""},
    SymbolEntry{":", ":", ""},
    SymbolEntry{"%", "%", ""},
    SymbolEntry{"{", "(", "parts of a condition stand in `(` and `)`"},
    SymbolEntry{"[", "(", "parts of a condition stand in `(` and `)`"},
    SymbolEntry{"}", ")", "parts of a condition stand in `(` and `)`"},
    SymbolEntry{"]", ")", "parts of a condition stand in `(` and `)`"},
    SymbolEntry{";", "", "leave it out: a line needs no end mark"},
    SymbolEntry{".", "", "leave it out; a number below one is written `0.5`"},
    SymbolEntry{"…", "", "leave it out"},
    SymbolEntry{"//", "", "leave it out; a comment starts with `#`"},
    SymbolEntry{"/", "", "write `per` for a rate, `8 of 10` for a count"},
    SymbolEntry{"-", "", "write `minus` between two values; names are joined with `_`"},
    SymbolEntry{"–", "", "write `minus` between two values; names are joined with `_`"},
    SymbolEntry{"—", "", "write `minus` between two values; names are joined with `_`"},
    SymbolEntry{"−", "", "write `minus` between two values; names are joined with `_`"},
    SymbolEntry{"+", "", "values cannot be added; leave it out before a number"},
    SymbolEntry{"*", "", "values cannot be multiplied"},
    SymbolEntry{"×", "", "values cannot be multiplied"},
    SymbolEntry{"$", "", "money is written as a number alone"},
    SymbolEntry{"€", "", "money is written as a number alone"},
    SymbolEntry{"£", "", "money is written as a number alone"},
    SymbolEntry{"~", "", "write `A within 5 % of B` for about"},
    SymbolEntry{"≈", "", "write `A within 5 % of B` for about"},
};

}  // namespace

bool is_blank(char32_t code) {
  return code == U' ' || code == U'\t' || code == 0xA0 || code == 0x1680 ||
         (code >= 0x2000 && code <= 0x200A) || code == 0x202F || code == 0x205F || code == 0x3000;
}

bool is_dash(char32_t code) {
  return code == U'-' || (code >= 0x2010 && code <= 0x2013) || code == 0x2212;
}

bool is_double_quote(char32_t code) { return code == U'"' || (code >= 0x201C && code <= 0x201F); }

bool is_single_quote(char32_t code) {
  return code == U'\'' || code == U'`' || (code >= 0x2018 && code <= 0x201B);
}

bool is_unseen(char32_t code) {
  if (code < 0x20) return code != U'\t' && code != U'\n' && code != U'\r';
  return (code >= 0x7F && code < 0xA0) || code == 0xAD || (code >= 0x200B && code <= 0x200F) ||
         (code >= 0x2028 && code <= 0x202E) || (code >= 0x2060 && code <= 0x206F) || code == 0xFEFF;
}

bool is_letter_or_digit(char32_t code) {
  if (code < 0x80) return is_ascii_letter_or_digit(code);
  return is_word_character(code);
}

bool is_word_character(char32_t code) {
  if (code < 0x80) return is_ascii_letter_or_digit(code) || code == U'_';
  // Punctuation, signs of money and mathematics are no letters; the degree sign starts a unit.
  const bool sign = (code >= 0x2010 && code <= 0x2027) || (code >= 0x2030 && code <= 0x205E) ||
                    (code >= 0x20A0 && code <= 0x20CF) || (code >= 0x2200 && code <= 0x22FF) ||
                    (code >= 0x2A00 && code <= 0x2AFF) || code == 0xD7 || code == 0xA3;
  return !sign && !is_blank(code) && !is_unseen(code);
}

const SymbolEntry* find_symbol(std::string_view text) {
  const auto* const found =
      std::find_if(symbols.begin(), symbols.end(),
                   [text](const SymbolEntry& entry) { return text.starts_with(entry.written); });
  return found == symbols.end() ? nullptr : found;
}

}  // namespace slipcase::language
