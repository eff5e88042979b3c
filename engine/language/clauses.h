// One line of a declaration, chosen by its first words.
#pragma once

#include <optional>
#include <span>
#include <string_view>

#include "language/ast.h"
#include "language/session.h"

namespace slipcase::language::grammar {

struct ClauseRule {
  std::string_view words;  // `shows`, `then causes`
  bool (*read)(Cursor& at, Session& session, ClauseBody& body);
};

/// Every clause of the language, in the order of their words.
[[nodiscard]] std::span<const ClauseRule> clause_rules();
/// Those of a trial; clause_rules() has them as well.
bool read_trial_with(Cursor& at, Session& session, ClauseBody& body);
bool read_trial_expect(Cursor& at, Session& session, ClauseBody& body);

/// Reads what stands behind the first words of a clause.
[[nodiscard]] std::optional<Failure> read_body(const ClauseRule& rule, Cursor& at, Session& session,
                                               ClauseBody& body);

/// Reads what stands behind the first word of a declaration (behind `at most one`): name, scope,
/// type.
[[nodiscard]] std::optional<Failure> read_header(Cursor& at, Session& session,
                                                 Declaration& declaration);

/// The name behind `unit`.
[[nodiscard]] std::optional<Failure> read_unit_name(Cursor& at, Session& session, Word& name);

}  // namespace slipcase::language::grammar
