#include <cmath>

#include <fmt/core.h>

#include "slipcase/report.h"

namespace slipcase {

std::string in_plain_counts(Probability chance) {
  const double p = chance.value();
  if (p == 0.0) return "none";
  if (chance.complement() == 0.0) return "all";
  if (p < 0.005) return "fewer than 1 of 200";
  if (p < 0.095) return fmt::format("about {} of 100", std::lround(100.0 * p));
  if (p < 0.905) return fmt::format("about {} of 10", std::lround(10.0 * p));
  if (p < 0.995) return fmt::format("about {} of 100", std::lround(100.0 * p));
  return "more than 99 of 100";
}

}  // namespace slipcase
