// The posterior of one network as a shop would see it: causes by chance.
#pragma once

#include <optional>
#include <vector>

#include "network/solver.h"
#include "self_check/shipped.h"

namespace self_check {

struct RankedCause {
  GroundCause cause;
  double chance = 0.0;
};

struct Ranked {
  std::vector<RankedCause> causes;  // those that can be present, likeliest first
  double nothing_listed = 0.0;
  unsigned width = 0;
  double seconds = 0.0;  // for the causes alone
};

class Ranker {
 public:
  /// The network is `rules` with other rates; causes that it can never have are left out.
  Ranker(const slipcase::model::RuleNetwork& rules, const Network& network,
         std::size_t memory_bytes);

  /// Nothing when the job is too wide. Throws when the evidence cannot be: it was drawn, so it can.
  [[nodiscard]] std::optional<Ranked> rank(const std::vector<Observation>& observations);

 private:
  std::vector<GroundCause> causes_;
  std::vector<HiddenId> hidden_;  // parallel
  slipcase::network::Solver solver_;
};

}  // namespace self_check
