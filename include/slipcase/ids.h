// Small typed indices. Mixing two kinds is a compile error.
#pragma once

#include <compare>
#include <cstddef>
#include <cstdint>

namespace slipcase {

/// An index into one table; Tag names the table.
template <class Tag>
struct Id {
  std::uint32_t index = 0;

  [[nodiscard]] constexpr std::size_t at() const { return index; }
  friend constexpr auto operator<=>(Id, Id) = default;
};

}  // namespace slipcase
