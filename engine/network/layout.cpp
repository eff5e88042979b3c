#include "network/layout.h"

#include <algorithm>

#include "network/order_search.h"

namespace slipcase::network {
namespace {

/// The connected parts of a structure; each is finished before the next is begun.
std::vector<Vertices> connected_parts(const Structure& structure, const Adjacency& adjacency) {
  std::vector<Vertices> parts;
  std::vector<bool> seen(structure.vertex_count(), false);
  for (std::uint32_t start = 0; start < structure.vertex_count(); ++start) {
    if (seen[start]) continue;
    seen[start] = true;
    Vertices part{start};
    const auto visit = [&](std::uint32_t u) {
      if (!seen[u]) part.push_back(u);
      seen[u] = true;
    };
    for (std::size_t i = 0; i < part.size(); ++i) {
      const std::uint32_t v = part[i];
      const auto visit_steps = [&](const std::vector<Adjacency::Step>& steps, Range range) {
        for (std::uint32_t s = range.begin; s < range.end; ++s) visit(steps[s].other);
      };
      visit_steps(adjacency.parent_steps, adjacency.parents[v]);
      visit_steps(adjacency.child_steps, adjacency.children[v]);
      for (std::uint32_t b = adjacency.bundles[v].begin; b < adjacency.bundles[v].end; ++b) {
        const Bundle& bundle = structure.bundles[adjacency.bundle_steps[b]];
        for (std::uint32_t t = 0; t < bundle.size; ++t) visit(bundle.targets[t]);
      }
    }
    parts.push_back(std::move(part));
  }
  return parts;
}

}  // namespace

Layout find_layout(const Structure& structure, const Adjacency& adjacency, const Ranks& familiar,
                   double effort) {
  Layout layout;
  for (Vertices& part : connected_parts(structure, adjacency)) {
    if (part.size() == 1) {
      layout.order.push_back(part.front());
      layout.width = std::max(layout.width, 1U);
      continue;
    }
    std::ranges::sort(part);
    const Order found = OrderSearch(structure, adjacency, std::move(part), familiar, effort).run();
    layout.order.insert(layout.order.end(), found.vertices.begin(), found.vertices.end());
    layout.cost += found.cost;
    layout.width = std::max(layout.width, found.width);
  }
  return layout;
}

}  // namespace slipcase::network
