// How the volume of a fill changes with its temperature, and what that does to a level.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "slipcase/service.h"

namespace slipcase::service {

// Where the formula below may be used. The standard (API MPMS chapter 11.1, 2004) goes from 800.9
// to 1163.5 kg/m3 and from -50 to 150 °C, from memory; below -20 °C no value could be checked here.
inline constexpr double lowest_density = 801.0;
inline constexpr double highest_density = 1163.0;
inline constexpr double lowest_temperature = -20.0;
inline constexpr double highest_temperature = 150.0;

/// Volume at 15 °C over volume at `celsius` of an oil with this density at 15 °C (kg/m3):
/// ASTM D1250 / API MPMS chapter 11.1, generalised lubricating oils, at the pressure of the air.
///   alpha = 0.6278 / density, factor = exp(-alpha dT (1 + 0.8 alpha dT)), dT = celsius - 15
/// The standard's own procedure rounds on the way; that moves the result by less than 1e-4.
[[nodiscard]] double volume_correction(double density, double celsius);

/// The level is right when `fill` (ml) is in the unit, whatever the temperature: the mark stands
/// still and the fluid grows. Values in `asked` are °C.
[[nodiscard]] FluidLevel fluid_level(double fill, double density, double set_at,
                                     const std::vector<double>& asked);

}  // namespace slipcase::service
