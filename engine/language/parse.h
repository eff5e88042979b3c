// Rule text to syntax tree.
#pragma once

#include "language/ast.h"
#include "slipcase/diagnostic.h"

namespace slipcase::language {

/// Reads one text of `sources`. Every error is reported and reading goes on behind it; the tree
/// holds what could be read. Never throws on any input, never recurses deeper than the nesting
/// limit.
/// `trials` false: trials are passed over unread.
[[nodiscard]] File parse(const SourceSet& sources, SourceId source, Diagnostics& diagnostics,
                         bool trials = true);

/// The words that start declarations and clauses and bind conditions in `language 1`; none can be a
/// name.
[[nodiscard]] const std::vector<std::string>& reserved_words();
[[nodiscard]] bool is_reserved(std::string_view word);
/// `[a-z][a-z0-9_]*`
[[nodiscard]] bool is_name(std::string_view word);

}  // namespace slipcase::language
