// What the checker knows about the kinds of clauses: where each belongs, and when two are the same
// line.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "language/ast.h"

namespace slipcase::rulebase {

[[nodiscard]] bool belongs_in(const language::Clause& clause, language::DeclarationKind kind);
/// At most one such line in a declaration.
[[nodiscard]] bool is_single(const language::Clause& clause);
/// A line that is a list: all lines of this kind together are one list.
[[nodiscard]] bool is_list(const language::Clause& clause);
/// Can be given for one member (`extend lining_worn of K3`).
[[nodiscard]] bool can_be_for_one_member(const language::Clause& clause);
/// `by`, `dated`, `note`: about the layer, not about the unit.
[[nodiscard]] bool is_about_layer(const language::Clause& clause);
/// What to write instead of a clause that does not belong.
[[nodiscard]] std::string hint_for(const language::Clause& clause, language::DeclarationKind kind);

/// "a cause"
[[nodiscard]] std::string_view with_article(language::DeclarationKind kind);

/// What the line is about: two lines of a declaration with the same first word and target are the
/// same line. Empty for a clause without a target.
[[nodiscard]] std::string target_of(const language::Clause& clause);
/// First word and target: what a layer names the line by.
[[nodiscard]] std::string first_line(const language::Clause& clause);
[[nodiscard]] bool same_line(const language::Clause& a, const language::Clause& b);
/// The entries of a list, as written.
[[nodiscard]] std::vector<std::string> entries_of(const language::Clause& clause);
/// Takes those entries out of a list; what is left may be empty.
void take_out_entries(language::Clause& clause, const std::vector<std::string>& entries);

}  // namespace slipcase::rulebase
