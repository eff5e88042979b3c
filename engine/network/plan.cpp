#include "network/plan.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "network/layout.h"
#include "network/structure.h"

namespace slipcase::network {
namespace {

/// Beyond this no vector is ever allocated; also keeps shifts defined.
constexpr unsigned hopeless_width = 40;
constexpr std::size_t branch_candidates = 6;

/// A branch removes one bit as a rule; a job much further from fitting is not worth the search.
constexpr double hopeless_excess = 256;

/// Calls visit(vertex, place) with the place that its node has in the order.
template <class Order, class Visit>
void for_places(const Structure& structure, const Situation& situation, Order& order, Visit visit) {
  for (std::uint32_t v = 0; v < structure.vertex_count(); ++v) {
    if (structure.is_root(v)) {
      visit(v, order.hidden[structure.roots[v - structure.targets.size()]]);
    } else if (structure.targets[v].is_finding) {
      visit(v, order.findings[situation.positives[structure.targets[v].id].finding]);
    } else {
      visit(v, order.hidden[structure.targets[v].id]);
    }
  }
}

/// What the search for an order goes by.
struct Search {
  const FamiliarOrder* familiar = nullptr;
  double effort = 1.0;
};

Program plan_program(const Wiring& wiring, const Situation& situation, const Search& search) {
  Structure structure = build_structure(wiring, situation);
  const Adjacency adjacency(structure);
  Ranks ranks;
  if (search.familiar != nullptr) {
    ranks.resize(structure.vertex_count(), none);
    for_places(structure, situation, *search.familiar,
               [&](std::uint32_t v, std::uint32_t place) { ranks[v] = place; });
  }
  const Layout layout = find_layout(structure, adjacency, ranks, search.effort);
  if (layout.width > hopeless_width) {
    Program program;
    program.structure = std::move(structure);
    program.width = layout.width;
    program.cost = layout.cost;
    return program;
  }
  return make_program(std::move(structure), adjacency, layout);
}

double bytes_of(const Program& program) {
  const double scratch = std::ldexp(2.0, static_cast<int>(program.width));
  return sizeof(double) * (static_cast<double>(program.arena) + scratch);
}

/// Nodes with parents and nothing known below: which are wanted, and how they are come by.
struct Unobserved {
  std::vector<std::uint32_t> derived;
  std::vector<std::uint32_t> asked;  // their parents hang together: they must join a sweep
  std::vector<HiddenId> skipped;
};

bool pairwise_disjoint(std::span<const std::uint32_t> parents,
                       const std::vector<std::vector<std::uint32_t>>& parts) {
  std::vector<std::uint32_t> all;
  for (const std::uint32_t p : parents) all.insert(all.end(), parts[p].begin(), parts[p].end());
  std::ranges::sort(all);
  return std::ranges::adjacent_find(all) == all.end();
}

Unobserved find_unobserved(const Wiring& wiring, const Situation& situation,
                           const Structure& structure, bool all_insides) {
  std::vector<bool> wanted(wiring.hidden_count(), false);
  bool any = false;
  Unobserved result;
  const auto unobserved = [&](std::size_t h) {
    return !wiring.is_root(h) && situation.role[h] == Role::unobserved;
  };
  for (std::size_t h = wiring.hidden_count(); h-- > 0;) {
    if (!unobserved(h)) continue;
    if (wiring.is_cause[h] || all_insides) wanted[h] = true;
    if (!wanted[h]) continue;
    any = true;
    for (const std::uint32_t p : wiring.parents_of_hidden(h)) wanted[p] = true;
  }
  const auto parts = any ? parts_of_hidden(wiring, situation, structure)
                         : std::vector<std::vector<std::uint32_t>>{};
  for (std::uint32_t h = 0; h < wiring.hidden_count(); ++h) {
    if (!unobserved(h)) continue;
    if (!wanted[h]) {
      result.skipped.push_back(HiddenId{h});
    } else if (!wiring.is_blocked(h) && pairwise_disjoint(wiring.parents_of_hidden(h), parts)) {
      result.derived.push_back(h);
    } else {
      result.asked.push_back(h);
    }
  }
  return result;
}

/// The situation in which these nodes too take part in the sweep, and so all that leads to them.
Situation with_observed(const Wiring& wiring, Situation situation,
                        std::span<const std::uint32_t> nodes) {
  std::vector<bool> touched(wiring.hidden_count(), false);
  for (const std::uint32_t h : nodes) touched[h] = true;
  for (std::size_t h = wiring.hidden_count(); h-- > 0;) {
    if (!touched[h]) continue;
    if (!wiring.is_root(h) && situation.role[h] == Role::unobserved)
      situation.role[h] = Role::observed;
    for (const std::uint32_t p : wiring.parents_of_hidden(h)) touched[p] = true;
  }
  return situation;
}

/// All in one sweep if that is cheaper than a sweep for each.
void add_asked(const Wiring& wiring, const Situation& situation, const Search& search,
               const std::vector<std::uint32_t>& asked, Plan& plan) {
  const Situation joint = with_observed(wiring, situation, asked);
  Program together = plan_program(wiring, joint, search);
  constexpr double fixed_cost = 2000.0;
  const double sweeps = static_cast<double>(asked.size()) + 1.0;
  if (together.cost <= sweeps * (plan.program.cost + fixed_cost) || asked.size() == 1) {
    plan.program = std::move(together);
    const auto in_sweep = [&](std::uint32_t h) { return joint.role[h] == Role::observed; };
    std::erase_if(plan.derived, in_sweep);
    std::erase_if(plan.skipped, [&](HiddenId h) { return in_sweep(h.index); });
    return;
  }
  for (const std::uint32_t h : asked)
    plan.sides.push_back(
        {plan_program(wiring, with_observed(wiring, situation, std::array{h}), search), h});
}

/// The nodes of a structure with the most links, states that may be split on.
std::vector<std::uint32_t> heaviest_nodes(const Structure& structure) {
  std::vector<std::pair<std::size_t, std::uint32_t>> nodes;  // links, hidden node
  std::vector<std::size_t> links(structure.vertex_count(), 0);
  for (const Arc& arc : structure.arcs) ++links[arc.parent];
  for (std::size_t v = 0; v < links.size(); ++v) {
    if (links[v] == 0) continue;
    nodes.emplace_back(links[v], structure.is_root(v)
                                     ? structure.roots[v - structure.targets.size()]
                                     : structure.targets[v].id);
  }
  std::ranges::sort(nodes, [](const auto& a, const auto& b) {
    return a.first != b.first ? a.first > b.first : a.second < b.second;
  });
  if (nodes.size() > branch_candidates) nodes.resize(branch_candidates);
  std::vector<std::uint32_t> result;
  for (const auto& [count, h] : nodes) result.push_back(h);
  return result;
}

std::optional<HiddenId> best_branch(const Wiring& wiring, const Situation& situation,
                                    const Search& search, const Plan& plan) {
  std::optional<HiddenId> best;
  double least = 0;
  for (const std::uint32_t h : heaviest_nodes(plan.program.structure)) {
    Situation branch = situation;
    branch.role[h] = Role::branch_present;  // the wider of the two: its own rate stays in
    branch = with_observed(wiring, std::move(branch), std::array{h});
    const double bytes =
        bytes_of(plan_program(wiring, branch, {search.familiar, 0.1 * search.effort}));
    if (best && bytes >= least) continue;
    best = HiddenId{h};
    least = bytes;
  }
  return best;
}

}  // namespace

FamiliarOrder order_of(const Plan& plan, const Wiring& wiring, const Situation& situation) {
  FamiliarOrder order{std::vector<std::uint32_t>(wiring.hidden_count(), none),
                      std::vector<std::uint32_t>(wiring.finding_count(), none)};
  const Program& program = plan.program;
  std::vector<std::uint32_t> place(program.structure.vertex_count(), none);
  for (std::uint32_t i = 0; i < program.order.size(); ++i) place[program.order[i]] = i;
  for_places(program.structure, situation, order,
             [&](std::uint32_t v, std::uint32_t& at) { at = place[v]; });
  return order;
}

Plan make_plan(const Wiring& wiring, const Situation& situation, const SolverOptions& options,
               const FamiliarOrder* familiar, bool must_branch, bool may_branch) {
  const Search search{familiar, options.search_effort};
  Plan plan;
  plan.program = plan_program(wiring, situation, search);
  Unobserved unobserved =
      find_unobserved(wiring, situation, plan.program.structure, options.all_insides);
  plan.derived = std::move(unobserved.derived);
  plan.skipped = std::move(unobserved.skipped);
  if (!unobserved.asked.empty()) add_asked(wiring, situation, search, unobserved.asked, plan);

  plan.bytes = bytes_of(plan.program);
  for (const SideProgram& side : plan.sides)
    plan.bytes = std::max(plan.bytes, bytes_of(side.program));
  const double excess = plan.bytes / static_cast<double>(options.memory_bytes);
  if (wiring.any_blocks) return plan;  // such a network is not split
  if (must_branch || (may_branch && excess > 1 && excess < hopeless_excess))
    plan.branch_on = best_branch(wiring, situation, search, plan);
  return plan;
}

}  // namespace slipcase::network
