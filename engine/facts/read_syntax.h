// The two syntaxes behind read_document: each library is seen by one file only.
#pragma once

#include <optional>
#include <string_view>

#include "facts/document.h"

namespace slipcase::facts {

struct SyntaxInput {
  std::string_view text;  // clean UTF-8
  std::size_t start = 0;  // behind a byte-order mark
  SourceId source;
  DocumentLimits limits;
};

struct SyntaxResult {
  std::optional<Node> root;   // none: could not be read to its end
  bool syntax_error = false;  // it is not this syntax; else a limit was passed
};

[[nodiscard]] SyntaxResult read_yaml(const SyntaxInput& input, Diagnostics& diagnostics);
[[nodiscard]] SyntaxResult read_json(const SyntaxInput& input, Diagnostics& diagnostics);

}  // namespace slipcase::facts
