#include "network/front.h"

namespace slipcase::network {
namespace {

/// Sorts items into one list per vertex (counting sort, order within a vertex kept).
template <class Item, class Of>
std::vector<Range> by_vertex(std::size_t vertices, const std::vector<Item>& items, Of vertex_of,
                             std::vector<Item>& sorted) {
  std::vector<Range> ranges(vertices);
  for (const Item& item : items) ++ranges[vertex_of(item)].end;
  std::uint32_t next = 0;
  for (Range& range : ranges) {
    range.begin = next;
    next += range.end;
    range.end = range.begin;
  }
  sorted.resize(items.size());
  for (const Item& item : items) sorted[ranges[vertex_of(item)].end++] = item;
  return ranges;
}

}  // namespace

Adjacency::Adjacency(const Structure& structure) {
  const std::size_t n = structure.vertex_count();
  std::vector<std::uint32_t> arcs(structure.arcs.size());
  for (std::uint32_t a = 0; a < arcs.size(); ++a) arcs[a] = a;

  std::vector<std::uint32_t> sorted;
  children = by_vertex(
      n, arcs, [&](std::uint32_t a) { return structure.arcs[a].parent; }, sorted);
  for (const std::uint32_t a : sorted) child_steps.push_back({structure.arcs[a].child, a});
  parents = by_vertex(
      n, arcs, [&](std::uint32_t a) { return structure.arcs[a].child; }, sorted);
  for (const std::uint32_t a : sorted) parent_steps.push_back({structure.arcs[a].parent, a});

  blocker.assign(n, {none, none});
  blocks_other.assign(n, false);
  for (const std::uint32_t a : arcs) {
    const Arc& arc = structure.arcs[a];
    if (!arc.blocks) continue;
    blocker[arc.child] = {arc.parent, a};
    blocks_other[arc.parent] = true;
  }

  struct Use {
    std::uint32_t target = 0;
    std::uint32_t bundle = 0;
  };
  std::vector<Use> uses;
  for (std::uint32_t b = 0; b < structure.bundles.size(); ++b)
    for (std::uint32_t i = 0; i < structure.bundles[b].size; ++i)
      uses.push_back({structure.bundles[b].targets[i], b});
  std::vector<Use> sorted_uses;
  bundles = by_vertex(
      n, uses, [](const Use& use) { return use.target; }, sorted_uses);
  for (const Use& use : sorted_uses) bundle_steps.push_back(size32(use.bundle));
}

}  // namespace slipcase::network
