// The words of `language 1` and the shapes a word can have.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "language/ast.h"

namespace slipcase::language {

/// A word that starts a declaration, with what it declares.
struct DeclarationWord {
  std::string_view word;  // the first word; `at` stands for `at most one`
  DeclarationKind kind;
};
[[nodiscard]] std::span<const DeclarationWord> declaration_words();

/// The first word of a clause or declaration that never stands within a condition.
[[nodiscard]] bool starts_line_only(std::string_view word);
/// A text in quotes stands behind this word.
[[nodiscard]] bool takes_text(std::string_view word);

[[nodiscard]] bool is_digits(std::string_view text);
/// `12`, `-3.5`, `1e-3`: looks like one number, whatever its size.
[[nodiscard]] bool is_number_shaped(std::string_view text);
/// Four digits, two, two, with `-` between; the day need not exist.
[[nodiscard]] bool is_date_shaped(std::string_view text);
/// What a text most likely stands for as a name: `Flex-Disc worn` gives `flex_disc_worn`. It can be
/// empty and can start with a digit.
[[nodiscard]] std::string as_name(std::string_view text);

}  // namespace slipcase::language
