// Invented random networks and evidence of every shape the inference must cope with.
#pragma once

#include <cstddef>
#include <random>

#include "network/network.h"

namespace slipcase::test {

struct NetworkShape {
  std::size_t hidden = 6;
  std::size_t findings = 6;
  std::size_t grades = 1;           // at most
  double chance_of_parents = 0;     // that a hidden node has any
  std::size_t parents = 3;          // at most, of a hidden node
  std::size_t finding_parents = 4;  // at most
  double chance_of_extremes = 0;    // that a number is exactly 0 or 1
  double chance_of_inside = 0.3;
  double chance_of_block = 0;  // that one of a hidden node's parents blocks it
};

/// Numbers are multiples of 1/4096, so that a probability and its complement are both exact.
[[nodiscard]] network::Network make_network(std::mt19937_64& random, const NetworkShape& shape);

struct EvidenceShape {
  double observed = 0.7;  // share of the findings
  double positive = 0.4;  // share of the observed
  double held = 0.0;      // share of the hidden nodes
};

[[nodiscard]] network::Evidence make_evidence(std::mt19937_64& random,
                                              const network::Network& network,
                                              const EvidenceShape& shape);

}  // namespace slipcase::test
