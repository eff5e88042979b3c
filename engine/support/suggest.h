// "Did you mean": the one known name that a misspelt one most likely stands for.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace slipcase {

/// The nearest candidate by edit distance (a swap of neighbours counts once), if it is within a
/// third of the length of `word` (at least 1) and no other is as near. Compare only with names that
/// are valid where the word stands.
[[nodiscard]] std::optional<std::string_view> suggest(std::string_view word,
                                                      std::span<const std::string> candidates);

/// ", did you mean `x`?" or "".
[[nodiscard]] std::string did_you_mean(std::string_view word,
                                       std::span<const std::string> candidates);

/// "`a`, `b` or `c`"; more than `most` are cut with "and N more".
[[nodiscard]] std::string quoted_list(std::span<const std::string> names, std::size_t most = 12);

}  // namespace slipcase
