// Strong three-valued logic (S. C. Kleene, Introduction to Metamathematics, 1952, section 64).
#pragma once

#include <algorithm>
#include <cstdint>

namespace slipcase::evaluation {

/// Ordered so that `and` is the smaller and `or` the larger of two.
enum class Truth : std::uint8_t { no, unknown, yes };

[[nodiscard]] constexpr Truth both(Truth a, Truth b) { return std::min(a, b); }
[[nodiscard]] constexpr Truth either(Truth a, Truth b) { return std::max(a, b); }
[[nodiscard]] constexpr Truth negation(Truth a) {
  return static_cast<Truth>(2U - static_cast<unsigned>(a));
}
[[nodiscard]] constexpr Truth truth(bool known) { return known ? Truth::yes : Truth::no; }

}  // namespace slipcase::evaluation
