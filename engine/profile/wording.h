// Pieces of text that messages share.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "support/suggest.h"

namespace slipcase::profile {

/// ", did you mean `x`?", or where nothing is near, "; write" with all names.
[[nodiscard]] inline std::string near_or_all(std::string_view word,
                                             std::span<const std::string> names) {
  std::string near = did_you_mean(word, names);
  if (!near.empty() || names.empty()) return near;
  return "; write " + quoted_list(names, 30);
}

}  // namespace slipcase::profile
