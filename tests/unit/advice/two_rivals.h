// Invented. Two rivals for one noise; with counts this plain chances and tipping points can be
// worked out by hand: rate times share decides.
#pragma once

#include <string_view>

namespace slipcase::test {

inline constexpr std::string_view two_rivals = R"(finding noise
  asks "Is there a noise?"
  otherwise in 1 of 1000 jobs
cause bearing
  found in 20 of 100 jobs
  shows noise in 40 of 100 jobs
cause pinion
  found in 10 of 100 jobs
  shows noise in 40 of 100 jobs
)";

}  // namespace slipcase::test
