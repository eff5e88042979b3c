#include "model/expectation.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <variant>

namespace slipcase::model {

namespace {

std::vector<std::vector<std::uint32_t>> find_ancestors(const Network& network) {
  std::vector<std::vector<std::uint32_t>> ancestors(network.hidden.size());
  for (std::uint32_t h = 0; h < network.hidden.size(); ++h) {
    std::vector<std::uint32_t> all{h};
    for (const HiddenLink& link : network.hidden[h].parents) {
      std::vector<std::uint32_t> merged;
      std::set_union(all.begin(), all.end(), ancestors[link.parent.at()].begin(),
                     ancestors[link.parent.at()].end(), std::back_inserter(merged));
      all = std::move(merged);
    }
    ancestors[h] = std::move(all);
  }
  return ancestors;
}

}  // namespace

Expectation::Expectation(const Network& network)
    : network_(network), ancestors_(find_ancestors(network)) {
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

bool Expectation::independent(std::span<const HiddenLink> parents) const {
  std::vector<std::uint32_t> all;
  for (const HiddenLink& link : parents) {
    const auto& more = ancestors_[link.parent.at()];
    all.insert(all.end(), more.begin(), more.end());
  }
  std::sort(all.begin(), all.end());
  return std::adjacent_find(all.begin(), all.end()) == all.end();
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
  const auto outcomes = part.solver.solve_networks(absent, {&part.network, 1});
  const auto* posterior = std::get_if<network::Posterior>(&outcomes.front());
  // Impossible: some certain parent always fires it.
  return posterior != nullptr ? std::exp(posterior->log_evidence) : 0.0;
}

Expectation::Part& Expectation::part_above(std::span<const HiddenLink> parents) {
  std::vector<std::uint32_t> key;
  std::vector<std::uint32_t> needed;
  for (const HiddenLink& link : parents) {
    key.push_back(link.parent.index);
    const auto& more = ancestors_[link.parent.at()];
    needed.insert(needed.end(), more.begin(), more.end());
  }
  const auto known = parts_.find(key);
  if (known != parts_.end()) return known->second;

  std::sort(needed.begin(), needed.end());
  needed.erase(std::unique(needed.begin(), needed.end()), needed.end());
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
