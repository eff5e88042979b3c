// How a cause reaches a finding in the rules: directly or through insides, with the lines on the
// way.
#pragma once

#include <optional>
#include <vector>

#include "model/rule_network.h"

namespace slipcase::advice {

struct PathStep {
  model::LinkLine line;
  grounding::Source from;
};

/// The steps from a hidden node to a finding, fewest first; the first step starts at the node
/// itself.
using LinkPath = std::vector<PathStep>;

/// Shortest paths from one hidden node to every finding it can make appear.
class PathFinder {
 public:
  PathFinder(const model::RuleNetwork& rules, network::HiddenId start);

  /// Nothing if the node cannot make the finding appear.
  [[nodiscard]] std::optional<LinkPath> to(grounding::GroundFinding finding) const;

 private:
  struct Arrival {
    network::HiddenId from;
    model::LinkLine line;
    std::uint32_t steps = 0;
  };
  const model::RuleNetwork& rules_;
  network::HiddenId start_;
  std::vector<std::optional<Arrival>>
      arrivals_;  // per hidden node, how the shortest path gets there
};

}  // namespace slipcase::advice
