// Names that an unknown one may stand for: misspelt, shortened, or with a word in common.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace slipcase {

inline constexpr std::size_t most_near_names = 4;

struct NearNames {
  std::vector<std::string> names;  // best first
  bool sure = false;               // the word is misspelt or shortened, not only alike in a part
};

/// The nearest by spelling, else those that hold the whole word, else those that share parts
/// between underscores with it: `shudder` stands for `shudder_at_cruise`, `fluid_temp` for
/// `fluid_temperature`. Only those that share as much as the best.
[[nodiscard]] NearNames near_names(std::string_view word, std::span<const std::string> candidates);

/// ", did you mean `x` or `y`?". Behind names that are only alike in a part, or none, the pointer
/// to where all are; few of them are all told.
[[nodiscard]] std::string name_hint(std::string_view word, std::span<const std::string> candidates);

}  // namespace slipcase
