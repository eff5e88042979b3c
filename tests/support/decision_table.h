// A small world of states for planning: every chance written out, so every plan can be enumerated.
#pragma once

#include <cstddef>
#include <random>
#include <vector>

#include "decision/look_ahead.h"

namespace slipcase::test {

struct DecisionTable {
  struct State {
    double chance = 0;
    std::vector<double> ended;                // per set of repairs, in 0..1
    std::vector<std::vector<double>> answer;  // per check and outcome
  };
  std::vector<State> states;
};

class TableOracle : public decision::Oracle {
 public:
  explicit TableOracle(const DecisionTable& table) : table_(table) {}

  [[nodiscard]] decision::Prospect now(const decision::Path& path) override {
    decision::Prospect result{.chance = 0, .ended = {}};
    result.ended.assign(table_.states.front().ended.size(), 0.0);
    for (const auto& state : table_.states) {
      double weight = state.chance;
      for (const decision::Answer& a : path) weight *= state.answer[a.check][a.outcome];
      result.chance += weight;
      for (std::size_t s = 0; s < result.ended.size(); ++s)
        result.ended[s] += weight * state.ended[s];
    }
    return result;
  }

  [[nodiscard]] std::vector<decision::Prospect> after(const decision::Path& path,
                                                      std::size_t check) override {
    std::vector<decision::Prospect> result;
    for (std::size_t o = 0; o < table_.states.front().answer[check].size(); ++o) {
      decision::Path then = path;
      then.push_back({check, o});
      result.push_back(now(then));
    }
    return result;
  }

 private:
  const DecisionTable& table_;
};

/// One fault at a time, each ended by its own repair; with a chance of `chances[i]`.
[[nodiscard]] inline DecisionTable single_faults(const std::vector<double>& chances) {
  DecisionTable table;
  for (std::size_t i = 0; i < chances.size(); ++i) {
    DecisionTable::State state{.chance = chances[i], .ended = {}, .answer = {}};
    for (std::size_t set = 0; set < (std::size_t{1} << chances.size()); ++set)
      state.ended.push_back((set >> i & 1U) != 0 ? 1.0 : 0.0);
    table.states.push_back(std::move(state));
  }
  return table;
}

/// Invented: `faults` single faults and `checks` noisy checks with two outcomes each.
[[nodiscard]] inline DecisionTable random_table(std::mt19937_64& random, std::size_t faults,
                                                std::size_t checks) {
  std::uniform_real_distribution<double> share(0.0, 1.0);
  std::vector<double> chances;
  double sum = 0;
  for (std::size_t i = 0; i < faults; ++i) sum += chances.emplace_back(0.05 + share(random));
  for (double& c : chances) c /= sum;
  DecisionTable table = single_faults(chances);
  for (std::size_t c = 0; c < checks; ++c)
    for (auto& state : table.states) {
      const double yes =
          share(random) < 0.5 ? 0.05 + 0.2 * share(random) : 0.7 + 0.28 * share(random);
      state.answer.push_back({1 - yes, yes});
    }
  return table;
}

}  // namespace slipcase::test
