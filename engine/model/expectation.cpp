#include "model/expectation.h"

#include <algorithm>
#include <cmath>
#include <variant>

namespace slipcase::model {

Expectation::Expectation(const Network& network)
    : network_(network), marks_(network.hidden.size(), 0) {
  marginals_.reserve(network.hidden.size());
  for (const network::Hidden& hidden : network.hidden) {
    // Parents come first, so their marginals are there already.
    if (hidden.parents.empty()) {
      marginals_.push_back(hidden.own);
      continue;
    }
    const double absent = hidden.own.complement() * none_fires(hidden.parents);
    marginals_.push_back(*Probability::from_weights(std::max(0.0, 1.0 - absent), absent));
  }
}

double Expectation::none_fires(std::span<const HiddenLink> parents) {
  return independent(parents) ? by_product(parents) : by_sweep(parents);
}

bool Expectation::mark_above(std::uint32_t node, std::uint32_t first) {
  marked_.clear();
  const auto mark = [&](std::uint32_t one) {
    if (marks_[one] == mark_) return true;
    if (marks_[one] >= first) return false;
    marks_[one] = mark_;
    marked_.push_back(one);
    return true;
  };
  if (!mark(node)) return false;
  // The list grows while it is walked.
  for (std::size_t i = 0; i < marked_.size(); ++i) {
    for (const HiddenLink& link : network_.hidden[marked_[i]].parents) {
      if (!mark(link.parent.index)) return false;
    }
  }
  return true;
}

// No two of them have an origin in common. What leads to one alone is not looked at: causes may
// follow each other in a long row.
bool Expectation::independent(std::span<const HiddenLink> parents) {
  if (parents.size() < 2) return true;
  const std::uint32_t first = mark_ + 1;
  std::uint32_t last = first;
  for (const HiddenLink& link : parents) {
    mark_ = last++;
    if (!mark_above(link.parent.index, first)) return false;
  }
  return true;
}

double Expectation::by_product(std::span<const HiddenLink> parents) const {
  double none = 1.0;
  for (const HiddenLink& link : parents) {
    const Probability present = marginals_[link.parent.at()];
    none *= present.complement() + present.value() * link.fire.complement();
  }
  return none;
}

double Expectation::by_sweep(std::span<const HiddenLink> parents) {
  Part& part = part_above(parents);
  auto& links = part.network.findings.front().parents;
  for (std::size_t i = 0; i < parents.size(); ++i) links[i].fire = {parents[i].fire};
  const network::Evidence absent{{{network::FindingId{0}, 0, 0}}, {}};
  const network::LogEvidence outcome = part.solver.log_evidence(absent, part.network);
  const auto* log_share = std::get_if<double>(&outcome);
  // Impossible: some certain parent always fires it.
  return log_share != nullptr ? std::exp(*log_share) : 0.0;
}

Expectation::Part& Expectation::part_above(std::span<const HiddenLink> parents) {
  std::vector<std::uint32_t> key;
  for (const HiddenLink& link : parents) key.push_back(link.parent.index);
  const auto known = parts_.find(key);
  if (known != parts_.end()) return known->second;

  std::vector<std::uint32_t> needed;
  ++mark_;
  for (const HiddenLink& link : parents) {
    mark_above(link.parent.index, mark_);
    needed.insert(needed.end(), marked_.begin(), marked_.end());
  }
  std::sort(needed.begin(), needed.end());
  const auto renumbered = [&needed](HiddenId old) {
    const auto at = std::lower_bound(needed.begin(), needed.end(), old.index);
    return HiddenId{static_cast<std::uint32_t>(at - needed.begin())};
  };
  Network network;
  for (const std::uint32_t h : needed) {
    network::Hidden hidden = network_.hidden[h];
    for (HiddenLink& link : hidden.parents) link.parent = renumbered(link.parent);
    network.hidden.push_back(std::move(hidden));
  }
  network::Finding child{{Probability::never()}, {}};
  for (const HiddenLink& link : parents)
    child.parents.push_back({renumbered(link.parent), {link.fire}});
  network.findings.push_back(std::move(child));
  // Small and asked a few times only: searching long for a better order would not pay.
  network::Solver solver(network, network::SolverOptions{.search_effort = 0.0});
  return parts_.emplace(std::move(key), Part{std::move(network), std::move(solver)}).first->second;
}

}  // namespace slipcase::model
