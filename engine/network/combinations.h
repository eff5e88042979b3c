// Questions that need several runs of the solver.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "network/network.h"
#include "network/solver.h"

namespace slipcase::network {

/// The chance that none of these nodes is present (value) against at least one (complement), given
/// the evidence. `log_evidence` is ln P(evidence), which the caller has from its posterior. Nothing
/// when the evidence is impossible or too wide.
[[nodiscard]] std::optional<Probability> chance_none(Solver& solver, const Evidence& evidence,
                                                     double log_evidence,
                                                     std::span<const HiddenId> nodes);

/// These causes are present and all others absent.
struct Combination {
  std::vector<HiddenId> causes;  // rising
  double chance = 0;
};

/// The most probable sets of causes given the evidence, insides summed out; exact, most probable
/// first. Fewer than `how_many` when no more are possible, or when finding the next would cost far
/// more than the posterior itself; empty when the evidence is impossible or too wide.
[[nodiscard]] std::vector<Combination> most_probable_combinations(Solver& solver,
                                                                  const Evidence& evidence,
                                                                  std::size_t how_many);

}  // namespace slipcase::network
