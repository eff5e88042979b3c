// Doubts about shipped rules that are there only because of a shop's own layer.
#pragma once

#include <memory>
#include <span>

#include "language/ast.h"
#include "profile/profile.h"
#include "slipcase/diagnostic.h"
#include "slipcase/source.h"

namespace slipcase::api {

/// The same messages, those about own files first. A warning in a shipped file that is not there
/// with the shipped rules alone says so, and names each declaration of the layer without which it
/// would not be there either. Nothing is guessed for that: the rules are checked without it.
[[nodiscard]] Diagnostics tell_own_doubts(std::span<const language::File> files,
                                          const std::shared_ptr<const profile::Profile>& unit,
                                          const SourceSet& sources, const Diagnostics& found);

}  // namespace slipcase::api
