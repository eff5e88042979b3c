// Which clause or declaration a word starts, or was meant to start.
#pragma once

#include <optional>

#include "language/clauses.h"
#include "language/session.h"

namespace slipcase::language {

/// A word that the writer chose: none of the language, no number.
[[nodiscard]] bool is_free_word(const Token& token);

/// The clause whose first word stands at `at`; null if none.
[[nodiscard]] const grammar::ClauseRule* clause_at(Cursor at);

/// The same for a misspelt word.
[[nodiscard]] const grammar::ClauseRule* misspelt_clause(Cursor at);
[[nodiscard]] std::optional<DeclarationKind> misspelt_declaration(Cursor at);

}  // namespace slipcase::language
