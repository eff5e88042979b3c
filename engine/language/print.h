// Syntax tree back to rule text, in one fixed layout. Parsing what this prints gives the same tree
// (places apart).
#pragma once

#include <string>

#include "language/ast.h"

namespace slipcase::language {

/// With its comments: those on lines of their own in front of what they stood in front of, the
/// others behind what they stood behind.
[[nodiscard]] std::string print(const File& file);
[[nodiscard]] std::string print(const Declaration& declaration);
[[nodiscard]] std::string print(const Clause& clause);
[[nodiscard]] std::string print(const Condition& condition);
[[nodiscard]] std::string print(const Reference& reference);

}  // namespace slipcase::language
