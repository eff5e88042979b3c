// What the profile calls impossible for a reading, and what such a number may have been.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "grounding/ground.h"
#include "profile/profile.h"
#include "units/quantity.h"

namespace slipcase::evaluation {

[[nodiscard]] bool is_possible(const profile::ReadingBounds& bounds, double value);

/// What a number is if it was a negative one whose sign bit was shown as part of its size.
struct LostSign {
  int bits = 16;
  units::Quantity quantity;
  std::string meant;  // "-120 mbar" for 65416 mbar
};

/// `shown` in `unit`; nothing where what comes out is not possible either.
[[nodiscard]] std::optional<LostSign> lost_sign(double shown, const units::Unit& unit,
                                                const profile::ReadingBounds& bounds);

/// "`9000 mbar` is not possible for `fill_pressure of K1`: the profile allows -500 mbar to 500
/// mbar". The profile has to know the reading.
[[nodiscard]] std::string impossible_text(const grounding::GroundRules& rules,
                                          grounding::GroundReading reading,
                                          std::string_view written,
                                          const units::Dimension& dimension);

/// The same for a quantity as somebody wrote it, with what to write where it has lost its sign.
[[nodiscard]] std::string impossible_written(const grounding::GroundRules& rules,
                                             grounding::GroundReading reading,
                                             std::string_view written,
                                             const units::Dimension& dimension);

}  // namespace slipcase::evaluation
