// Looking up the words of the unit profile, with a message where one is not known.
#pragma once

#include <optional>
#include <string>

#include "language/ast.h"
#include "rulebase/unit_vocabulary.h"
#include "slipcase/diagnostic.h"

namespace slipcase::rulebase {

[[nodiscard]] std::optional<ScopeId> find_scope(const UnitVocabulary& unit,
                                                const language::Word& word,
                                                Diagnostics& diagnostics);

/// A member of this scope by its name.
[[nodiscard]] std::optional<MemberId> find_member(const UnitVocabulary& unit, ScopeId scope,
                                                  const language::Word& word,
                                                  Diagnostics& diagnostics);

/// "a shift", "an element"
[[nodiscard]] std::string with_article(const std::string& word);

}  // namespace slipcase::rulebase
