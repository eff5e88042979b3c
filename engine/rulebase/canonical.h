// A rule base as one fixed text, names instead of numbers, places and comments left out. Two rule
// bases mean the same if their texts are the same; the order of files and declarations does not
// enter.
#pragma once

#include <string>

#include "rulebase/rulebase.h"

namespace slipcase::rulebase {

[[nodiscard]] std::string canonical_text(const Rulebase& rules);
/// Variables are written `$0`, `$1`, ...
[[nodiscard]] std::string canonical_text(const Rulebase& rules, const Condition& condition);
[[nodiscard]] std::string canonical_text(const Rulebase& rules, const Value& value);
[[nodiscard]] std::string canonical_text(const Rulebase& rules, const Term& term,
                                         std::optional<ScopeId> scope);
[[nodiscard]] std::string canonical_text(const Rulebase& rules, const Reach& reach,
                                         std::optional<ScopeId> scope);

/// Sixteen hexadecimal digits over the canonical text (FNV-1a, 64 bits): tells rule bases apart,
/// and is no protection against somebody who wants two to look the same.
[[nodiscard]] std::string fingerprint(const Rulebase& rules);

}  // namespace slipcase::rulebase
