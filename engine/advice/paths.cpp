#include "advice/paths.h"

#include <algorithm>

namespace slipcase::advice {

using network::HiddenId;

PathFinder::PathFinder(const model::RuleNetwork& rules, HiddenId start)
    : rules_(rules), start_(start), arrivals_(rules.numbers.hidden.size()) {
  // Parents come before children, so one pass in order settles every node.
  std::vector<std::optional<std::uint32_t>> steps(rules.numbers.hidden.size());
  steps[start.at()] = 0;
  for (std::size_t h = start.at() + 1; h < rules.numbers.hidden.size(); ++h) {
    const auto& parents = rules.numbers.hidden[h].parents;
    for (std::size_t i = 0; i < parents.size(); ++i) {
      const auto before = steps[parents[i].parent.at()];
      if (!before || (steps[h] && *steps[h] <= *before + 1)) continue;
      steps[h] = *before + 1;
      arrivals_[h] = Arrival{parents[i].parent, rules.hidden_lines[h][i], *before + 1};
    }
  }
}

std::optional<LinkPath> PathFinder::to(grounding::GroundFinding finding) const {
  const auto& parents = rules_.numbers.findings.at(finding.at()).parents;
  std::optional<std::size_t> best;
  std::uint32_t best_steps = 0;
  for (std::size_t i = 0; i < parents.size(); ++i) {
    const HiddenId parent = parents[i].parent;
    const auto& arrival = arrivals_[parent.at()];
    if (parent != start_ && !arrival) continue;
    const std::uint32_t steps = parent == start_ ? 0 : arrival->steps;
    if (best && best_steps <= steps) continue;
    best = i;
    best_steps = steps;
  }
  if (!best) return std::nullopt;
  LinkPath path;
  HiddenId at = parents[*best].parent;
  path.push_back({rules_.finding_lines.at(finding.at())[*best], rules_.origin.at(at.at())});
  while (at != start_) {
    const Arrival& arrival = *arrivals_[at.at()];
    path.push_back({arrival.line, rules_.origin.at(arrival.from.at())});
    at = arrival.from;
  }
  std::reverse(path.begin(), path.end());
  return path;
}

}  // namespace slipcase::advice
