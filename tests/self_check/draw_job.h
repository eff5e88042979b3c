// A job drawn forward from a network: what is wrong, and what shows for it.
//
// Written apart from the inference on purpose. Every own rate, every link and every leak is a throw
// of its own, as the forms in network/network.h mean them, and no chance is ever multiplied: a slip
// in the products of network/ would show as chances that do not come true.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include <boost/random/mersenne_twister.hpp>

#include "network/network.h"
#include "slipcase/probability.h"

namespace self_check {

/// Engine and distributions of Boost give the same draws on every machine; those of the standard
/// library need not.
using Random = boost::random::mt19937_64;

[[nodiscard]] bool happens(double chance, Random& random);

struct DrawnJob {
  std::vector<bool> present;          // per hidden node
  std::vector<std::uint32_t> grades;  // per finding: 0 not there, 1 the weakest grade
};

[[nodiscard]] DrawnJob draw_job(const slipcase::network::Network& network, Random& random);

/// The same with this cause present and every other cause absent, whatever their rates are.
[[nodiscard]] DrawnJob draw_job_with_only(const slipcase::network::Network& network,
                                          slipcase::network::HiddenId cause, Random& random);

}  // namespace self_check
