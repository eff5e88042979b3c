#include "service/fluid_level.h"

#include <cmath>

namespace slipcase::service {

double volume_correction(double density, double celsius) {
  constexpr double lubricating_oil = 0.6278;  // K1 of the standard; its K0 is 0
  const double growth = lubricating_oil / density * (celsius - 15.0);
  return std::exp(-growth * (1.0 + 0.8 * growth));
}

FluidLevel fluid_level(double fill, double density, double set_at,
                       const std::vector<double>& asked) {
  FluidLevel level;
  level.set_at = set_at;
  level.fill = fill;
  level.density = density;
  const double when_set = volume_correction(density, set_at);
  for (const double celsius : asked) {
    const double growth = when_set / volume_correction(density, celsius);
    level.at.push_back({celsius, fill * (growth - 1.0), fill * (1.0 / growth - 1.0)});
  }
  return level;
}

}  // namespace slipcase::service
