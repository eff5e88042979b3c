// What kind of thing a number measures.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace slipcase::units {

/// Independent kinds of measure. Volume, pressure and density stand for themselves: nobody in the
/// trade multiplies lengths to get litres, and a slip of that kind should be an error.
enum class Base : std::uint8_t {
  distance,
  duration,
  pressure,
  temperature,
  volume,
  voltage,
  current,
  resistance,
  rotation,
  money,
  density,
};
inline constexpr std::size_t base_count = 11;

/// Exponents over the bases; all zero is a plain number (a share, a count).
/// A temperature on the scale and a difference of two temperatures are two dimensions: the first
/// can be compared, the second added up. `on_scale` is true for the first only.
struct Dimension {
  std::array<std::int8_t, base_count> exponents{};
  bool on_scale = false;

  friend constexpr bool operator==(const Dimension&, const Dimension&) = default;
};

[[nodiscard]] constexpr Dimension of(Base base) {
  Dimension dimension;
  dimension.exponents.at(static_cast<std::size_t>(base)) = 1;
  return dimension;
}
[[nodiscard]] constexpr Dimension speed() {
  Dimension dimension = of(Base::distance);
  dimension.exponents.at(static_cast<std::size_t>(Base::duration)) = -1;
  return dimension;
}
[[nodiscard]] constexpr Dimension plain_number() { return {}; }
[[nodiscard]] constexpr Dimension temperature() {
  Dimension dimension = of(Base::temperature);
  dimension.on_scale = true;
  return dimension;
}
[[nodiscard]] constexpr Dimension temperature_difference() { return of(Base::temperature); }
[[nodiscard]] Dimension quotient(const Dimension& over, const Dimension& under);

/// The dimension that `A minus B` has; nothing if the two cannot be subtracted.
[[nodiscard]] std::optional<Dimension> difference(const Dimension& a, const Dimension& b);

/// "pressure", "temperature difference", "pressure per distance", "plain number".
[[nodiscard]] std::string describe(const Dimension& dimension);

/// Dimension by the name a rule file uses after `reading x :` ("pressure", "speed", "share" ...).
[[nodiscard]] std::optional<Dimension> dimension_named(std::string_view name);
/// All names `dimension_named` knows, for messages.
[[nodiscard]] const std::vector<std::string>& dimension_names();

}  // namespace slipcase::units
