#include "decision/look_ahead.h"

#include <algorithm>
#include <optional>

#include "support/sort_key.h"

namespace slipcase::decision {
namespace {

/// Outcomes rarer than this are not planned for.
constexpr double negligible = 1e-12;

std::vector<std::size_t> without(std::span<const std::size_t> checks, std::size_t done) {
  std::vector<std::size_t> rest;
  for (const std::size_t c : checks)
    if (c != done) rest.push_back(c);
  return rest;
}

std::optional<CheckValue> value_of(const Problem& problem, Oracle& oracle, const Path& path,
                                   OnceSet paid, std::size_t check, const Prospect& now,
                                   double cost_now) {
  const std::vector<Prospect> outcomes = oracle.after(path, check);
  if (outcomes.empty() || !(now.chance > 0)) return std::nullopt;
  const Work& work = problem.checks[check];
  CheckValue value{.check = check, .cost = cost_of(problem, work, paid), .gain = 0, .chance = {}};
  double cost_then = 0;
  for (const Prospect& outcome : outcomes) {
    value.chance.push_back(outcome.chance / now.chance);
    cost_then += cost_of_best_repairs(problem, outcome, paid | work.needs);
  }
  // Rounding must not make a check worth less than nothing.
  value.gain = std::max(0.0, (cost_now - cost_then) / now.chance);
  return value;
}

PlanNode repair_node(const Problem& problem, const Prospect& now, OnceSet paid) {
  PlanNode node;
  node.chance = now.chance;
  node.repairs = best_repairs(problem, now, paid);
  node.cost = node.repairs.weighed_cost / now.chance;
  return node;
}

}  // namespace

std::vector<CheckValue> value_checks(const Problem& problem, Oracle& oracle, const Path& path,
                                     OnceSet paid, std::span<const std::size_t> checks) {
  const Prospect now = oracle.now(path);
  const double cost_now = cost_of_best_repairs(problem, now, paid);
  std::vector<CheckValue> values;
  for (const std::size_t check : checks)
    if (auto value = value_of(problem, oracle, path, paid, check, now, cost_now))
      values.push_back(std::move(*value));
  std::ranges::stable_sort(values, std::ranges::greater{},
                           [](const CheckValue& v) { return sort_key(v.net()); });
  return values;
}

PlanNode look_ahead(const Problem& problem, Oracle& oracle, const Path& path, OnceSet paid,
                    std::span<const std::size_t> checks, std::size_t depth) {
  const Prospect now = oracle.now(path);
  PlanNode node = repair_node(problem, now, paid);
  if (depth == 0 || checks.empty()) return node;
  const std::vector<CheckValue> values = value_checks(problem, oracle, path, paid, checks);
  if (values.empty() || values.front().net() <= 0) return node;

  const CheckValue& best = values.front();
  const OnceSet paid_then = paid | problem.checks[best.check].needs;
  const std::vector<std::size_t> rest = without(checks, best.check);
  node.check = best.check;
  node.repairs = {};
  node.cost = best.cost;
  for (std::size_t outcome = 0; outcome < best.chance.size(); ++outcome) {
    if (best.chance[outcome] < negligible) continue;
    Path then = path;
    then.push_back({best.check, outcome});
    node.branches.push_back(
        {outcome, look_ahead(problem, oracle, then, paid_then, rest, depth - 1)});
    node.cost += best.chance[outcome] * node.branches.back().then.cost;
  }
  return node;
}

}  // namespace slipcase::decision
