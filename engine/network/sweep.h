// Runs a program forward (the evidence's chance) and backward (every posterior).
//
// The forward vector holds, for each setting of the open bits, the weight of all that led there;
// the backward vector the weight of all that can follow. The product of both, split by a node's
// state, is the node's posterior.
#pragma once

#include <array>
#include <vector>

#include "network/buffer.h"
#include "network/coefficients.h"
#include "network/program.h"

namespace slipcase::network {

template <class Lane>
class Sweep {
 public:
  /// The chance of the evidence, per lane. `keep`: backward() will follow.
  std::array<Scaled, lanes<Lane>> forward(const Program& program, const Coefficients<Lane>& numbers,
                                          bool keep);

  /// Sets result[h] for every hidden node of the program, up to a common factor per node.
  void backward(const Program& program, const Coefficients<Lane>& numbers,
                std::vector<Pair<Lane>>& result);

 private:
  void reserve(const Program& program, bool keep);
  Lane* place_for(std::size_t kept, const Lane* current);
  void step(const Program& program, const Coefficients<Lane>& numbers, const Op& op, const Lane* in,
            Lane* out) const;
  Lane* step_back(const Program& program, const Coefficients<Lane>& numbers, const Op& op,
                  Lane* back, std::vector<Pair<Lane>>& result);

  // Kept from call to call: touching fresh memory costs more than a sweep.
  Buffer<Lane> arena_;
  std::array<Buffer<Lane>, 2> scratch_;
};

}  // namespace slipcase::network
