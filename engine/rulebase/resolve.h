// Syntax trees of all rule files, shipped and own, to one rule base.
#pragma once

#include <optional>
#include <span>

#include "language/ast.h"
#include "rulebase/rulebase.h"
#include "slipcase/diagnostic.h"

namespace slipcase::rulebase {

/// Merges the layers (`extend`, `revise`, `remove`), resolves every name against the unit's
/// vocabulary and checks scopes, dimensions and counts. All errors are reported; nothing comes back
/// if there was one. Files are taken in the order given; their order never changes the meaning.
[[nodiscard]] std::optional<Rulebase> resolve(std::span<const language::File> files,
                                              const UnitVocabulary& unit, Diagnostics& diagnostics);

/// The warnings about valid rules that mean something else than they seem to (needs no job).
void check_meaning(const Rulebase& rulebase, Diagnostics& diagnostics);

}  // namespace slipcase::rulebase
