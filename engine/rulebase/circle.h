// Finding a way that leads back to where it began.
#pragma once

#include <cstdint>
#include <vector>

#include "slipcase/source.h"

namespace slipcase::rulebase {

struct Step {
  std::uint32_t to = 0;
  Place place;  // the line that leads there
};

/// Steps from each node, in rule order.
using Steps = std::vector<std::vector<Step>>;

/// One way round: node i is left by `place` i; the last leads back to the first.
struct CircleStep {
  std::uint32_t from = 0;
  Place place;
};
using Circle = std::vector<CircleStep>;

/// Every node that leads to itself, and so many others that each node that can be left and reached
/// again by way of another stands in one; short ones, each beginning at the lowest node that stood
/// in none before. After many it ends.
[[nodiscard]] std::vector<Circle> find_circles(const Steps& steps);

}  // namespace slipcase::rulebase
