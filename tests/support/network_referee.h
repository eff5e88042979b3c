// The referee for inference: every setting of the hidden nodes, in exact rational numbers.
#pragma once

#include <cstddef>
#include <vector>

#include <gmpxx.h>

#include "network/network.h"

namespace slipcase::test {

/// Weights of everything, before any division. Settings are bit sets: bit h is hidden node h.
struct Enumeration {
  std::vector<mpq_class> setting;  // P(setting, evidence)
  mpq_class evidence;              // their sum

  [[nodiscard]] mpq_class present(std::size_t hidden) const;  // P(node present, evidence)
  /// P(none of the nodes of `mask` present, evidence)
  [[nodiscard]] mpq_class none_of(std::size_t mask) const;
  /// By sets of the nodes of `mask`, the others summed out: result[set] = P(exactly these,
  /// evidence)
  [[nodiscard]] std::vector<mpq_class> exactly(std::size_t mask) const;
};

/// Pass factors are taken from complement(), rates from value(), exactly as given.
[[nodiscard]] Enumeration enumerate(const network::Network& network,
                                    const network::Evidence& evidence);

}  // namespace slipcase::test
