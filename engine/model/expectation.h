// How often, over all jobs, a noisy-OR child stays absent: E[product of pass_i over present
// parents].
//
// Needed to turn "overall in 4 of 100 jobs" into the rate without a listed cause, and to say what
// share of all jobs the rules imply for a finding.
#pragma once

#include <map>
#include <span>
#include <vector>

#include "network/network.h"
#include "network/solver.h"

namespace slipcase::model {

using network::HiddenId;
using network::HiddenLink;
using network::Network;

class Expectation {
 public:
  /// Works on the hidden nodes of `network` and their rates before any job is known.
  explicit Expectation(const Network& network);

  /// P(hidden node present) over all jobs.
  [[nodiscard]] Probability marginal(HiddenId hidden) const { return marginals_.at(hidden.at()); }

  /// E[product of pass_i]: the chance that none of these parents fires the child.
  /// Not const: keeps the order of computation for the next question about the same parents.
  [[nodiscard]] double none_fires(std::span<const HiddenLink> parents);

 private:
  [[nodiscard]] bool independent(std::span<const HiddenLink> parents);
  /// Marks the node and all that leads to it with `mark_`. False, and stops, at one that has a mark
  /// from `first` on, but not this one.
  bool mark_above(std::uint32_t node, std::uint32_t first);
  [[nodiscard]] double by_product(std::span<const HiddenLink> parents) const;
  [[nodiscard]] double by_sweep(std::span<const HiddenLink> parents);

  /// The part of the network above a set of parents, with one finding that stands for their child.
  struct Part {
    Network network;
    network::Solver solver;
  };
  [[nodiscard]] Part& part_above(std::span<const HiddenLink> parents);

  const Network& network_;
  std::vector<std::uint32_t> marks_;  // per hidden node: the last it was given
  std::uint32_t mark_ = 0;
  std::vector<std::uint32_t> marked_;  // by the last mark_above()
  std::vector<Probability> marginals_;
  std::map<std::vector<std::uint32_t>, Part> parts_;  // by the parents
};

}  // namespace slipcase::model
