// A value as someone wrote it.
#pragma once

#include <string>
#include <string_view>

#include "slipcase/source.h"

namespace slipcase::facts {

/// A value as written, with its place; whether it is a word, a number or a quantity is decided
/// later.
struct Scalar {
  std::string text;
  Place place;
  bool faulty = false;  // was reported: it has no text, and nothing more is to be said of it
};

[[nodiscard]] inline Scalar faulty_at(const Place& place) { return {{}, place, true}; }

/// "yes" and "no", which JSON writes `true` and `false`; capitals do not matter.
[[nodiscard]] bool says_yes(std::string_view text);
[[nodiscard]] bool says_no(std::string_view text);
/// Other words that YAML once took for yes and no ("on", "n"): which one is meant is never guessed.
[[nodiscard]] bool says_on_or_off(std::string_view text);

}  // namespace slipcase::facts
