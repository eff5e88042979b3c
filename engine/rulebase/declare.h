// First pass: every name gets its number, before any line that uses it is looked at.
#pragma once

#include <vector>

#include "rulebase/context.h"

namespace slipcase::rulebase {

struct DeclaredEntity {
  const MergedDeclaration* declaration;
  Entity entity;
};

/// Fills the names and the lists of the rule base with headers. What has a name that is taken is
/// reported and left out; so is, silently, what the shop took out of use.
[[nodiscard]] std::vector<DeclaredEntity> declare(Context& context, const Merged& merged);

/// Lines that do not belong to their declaration, or are there twice.
void check_lines(Context& context, const Merged& merged);

/// `{element}` in a text must be the declaration's own scope.
void check_placeholders(Context& context, const language::Text& text, std::optional<ScopeId> scope);

}  // namespace slipcase::rulebase
