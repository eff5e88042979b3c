// Numbers to sort by.
#pragma once

#include <bit>
#include <cstdint>

namespace slipcase {

/// The number without its last 13 bits (about one part in 10^12), rounded: what only the order of
/// additions sets apart counts as equal, and the next thing asked decides, not the machine.
[[nodiscard]] inline double sort_key(double number) {
  constexpr std::uint64_t dropped = 1U << 13U;
  const auto bits = std::bit_cast<std::uint64_t>(number) + dropped / 2;
  return std::bit_cast<double>(bits & ~(dropped - 1));
}

}  // namespace slipcase
