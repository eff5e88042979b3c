#include "self_check/ranker.h"

#include <algorithm>
#include <chrono>
#include <stdexcept>

#include "network/combinations.h"

namespace self_check {

namespace {

// Hardly two drawn jobs have one shape, so what a plan is kept for does not come again.
slipcase::network::SolverOptions solver_options(std::size_t memory_bytes) {
  slipcase::network::SolverOptions options;
  options.memory_bytes = memory_bytes;
  options.plans_kept = 2;
  return options;
}

}  // namespace

Ranker::Ranker(const slipcase::model::RuleNetwork& rules, const Network& network,
               std::size_t memory_bytes)
    : solver_(network, solver_options(memory_bytes)) {
  for (std::uint32_t c = 0; c < rules.of_cause.size(); ++c) {
    const HiddenId id = rules.of_cause[c];
    const auto& hidden = network.hidden[id.at()];
    if (hidden.own.value() == 0.0 && hidden.parents.empty()) continue;
    causes_.push_back(GroundCause{c});
    hidden_.push_back(id);
  }
}

std::optional<Ranked> Ranker::rank(const std::vector<Observation>& observations) {
  const slipcase::network::Evidence evidence{observations, {}};
  const auto start = std::chrono::steady_clock::now();
  const slipcase::network::Outcome outcome = solver_.solve(evidence);
  const std::chrono::duration<double> taken = std::chrono::steady_clock::now() - start;
  if (std::holds_alternative<slipcase::network::TooWide>(outcome)) return std::nullopt;
  const auto* posterior = std::get_if<slipcase::network::Posterior>(&outcome);
  if (posterior == nullptr) throw std::runtime_error("what was drawn is called impossible");

  Ranked ranked;
  ranked.width = posterior->width;
  ranked.seconds = taken.count();
  for (std::size_t i = 0; i < causes_.size(); ++i)
    ranked.causes.push_back({causes_[i], posterior->hidden.at(hidden_[i].at()).value()});
  std::ranges::stable_sort(ranked.causes, std::greater{}, &RankedCause::chance);
  const auto none =
      slipcase::network::chance_none(solver_, evidence, posterior->log_evidence, hidden_);
  if (!none) return std::nullopt;
  ranked.nothing_listed = none->value();
  return ranked;
}

}  // namespace self_check
