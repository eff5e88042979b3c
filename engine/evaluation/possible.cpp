#include "evaluation/possible.h"

#include <cmath>

#include <fmt/core.h>

namespace slipcase::evaluation {

bool is_possible(const profile::ReadingBounds& bounds, double value) {
  return value >= bounds.lowest_possible && value <= bounds.highest_possible;
}

std::optional<LostSign> lost_sign(double shown, const units::Unit& unit,
                                  const profile::ReadingBounds& bounds) {
  for (const int bits : {16, 32}) {
    const double all = std::ldexp(1.0, bits);
    if (shown < all / 2.0 || shown >= all || shown != std::floor(shown)) continue;
    const units::Quantity meant = units::to_quantity(shown - all, unit);
    if (meant.value < bounds.lowest_possible) continue;
    return LostSign{bits, meant, units::to_text(meant, unit)};
  }
  return std::nullopt;
}

std::string impossible_text(const grounding::GroundRules& rules, grounding::GroundReading reading,
                            std::string_view written, const units::Dimension& dimension) {
  const profile::ReadingBounds bounds =
      rules.bounds[reading.at()].value_or(profile::ReadingBounds{});
  const auto text = [&](double end) { return units::to_text({end, dimension}); };
  return fmt::format("`{}` is not possible for `{}`: the profile allows {} to {}", written,
                     rules.name_of(reading), text(bounds.lowest_possible),
                     text(bounds.highest_possible));
}

std::string impossible_written(const grounding::GroundRules& rules,
                               grounding::GroundReading reading, std::string_view written,
                               const units::Dimension& dimension) {
  std::string text = impossible_text(rules, reading, written, dimension);
  const auto parse = units::parse_quantity(written, dimension);
  const auto& bounds = rules.bounds[reading.at()];
  if (!parse.quantity || parse.unit == nullptr || !bounds) return text;
  const double shown = units::in_unit(*parse.quantity, *parse.unit);
  if (const auto lost = lost_sign(shown, *parse.unit, *bounds))
    text += fmt::format("; it looks like a negative number shown without its sign, then write `{}`",
                        lost->meant);
  return text;
}

}  // namespace slipcase::evaluation
