// A share as people say it: "4.5 of 100".
#pragma once

#include <string>

#include <fmt/core.h>

namespace slipcase {

[[nodiscard]] inline std::string per_hundred(double share, int digits = 3) {
  return fmt::format("{:.{}g} of 100", 100.0 * share, digits);
}

}  // namespace slipcase
