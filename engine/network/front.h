// Walks through a structure in a given order of vertices and says what happens when.
//
// Introducing a vertex opens its bit. A link is worked off as soon as both ends are open and the
// parent's state is known (a target's state is known once all its parents are in); a vertex is
// dropped when all its links are worked off. Both the search for a good order and the making of a
// program use this one walk, so the search sees exactly what the program will do.
#pragma once

#include <algorithm>
#include <cstdint>
#include <utility>
#include <vector>

#include "network/structure.h"

namespace slipcase::network {

/// The links of a structure by vertex, for walking.
struct Adjacency {
  struct Step {
    std::uint32_t other = 0;  // vertex
    std::uint32_t arc = 0;
  };
  std::vector<Range> parents, children, bundles;  // per vertex
  std::vector<Step> parent_steps, child_steps;
  std::vector<std::uint32_t> bundle_steps;
  std::vector<Step> blocker;       // per vertex: what may clear it; arc == none: nothing
  std::vector<bool> blocks_other;  // per vertex

  explicit Adjacency(const Structure& structure);
};

/// A root with few targets, introduced when they are all open, is applied like a bundle: no bit.
[[nodiscard]] inline bool applies_at_once(const Structure& structure, const Adjacency& adjacency,
                                          std::uint32_t vertex) {
  return structure.is_root(vertex) && adjacency.children[vertex].size() <= bundle_limit &&
         !adjacency.blocks_other[vertex];
}

/// What the search needs to know.
struct Tally {
  double cost = 0;     // states touched, in passes over the vector
  unsigned live = 0;   // open bits
  unsigned width = 0;  // most open bits at once

  void on_open(std::uint32_t) {
    width = std::max(width, ++live);
    cost += size();
  }
  void on_fire(std::uint32_t) { cost += 0.5 * size(); }
  void on_bundle(std::uint32_t, std::size_t targets) {
    cost += (targets == 2 ? 2.5 : 4.0) * size();
  }
  void on_root_at_once(std::uint32_t, std::size_t) { cost += 4.0 * size(); }
  void on_drop(std::uint32_t) {
    cost += size();
    --live;
  }

 private:
  [[nodiscard]] double size() const {
    return static_cast<double>(std::uint64_t{1} << std::min(live, 62U));
  }
};

template <class Sink>
class Front {
 public:
  struct Vertex {
    bool introduced = false;
    bool open = false;
    bool known = false;                 // open or dropped, and its state is final
    std::uint32_t parents_left = 0;     // links into it not worked off, bundles counted
    std::uint32_t links_left = 0;       // all its links not worked off
    std::uint32_t children_closed = 0;  // children not introduced yet
  };
  struct Position {
    std::vector<Vertex> vertices;
    std::vector<std::uint32_t> bundle_waits;
  };

  Front(const Structure& structure, const Adjacency& adjacency, Sink& sink)
      : structure_(&structure), adjacency_(&adjacency), sink_(&sink) {
    reset();
  }

  void reset() {
    const auto n = static_cast<std::uint32_t>(structure_->vertex_count());
    at_.vertices.assign(n, {});
    for (std::uint32_t v = 0; v < n; ++v) {
      const std::uint32_t bundles = adjacency_->bundles[v].size();
      vertex(v).parents_left = adjacency_->parents[v].size() + bundles;
      vertex(v).links_left = vertex(v).parents_left + adjacency_->children[v].size();
      vertex(v).children_closed = adjacency_->children[v].size();
    }
    at_.bundle_waits.clear();
    for (const Bundle& bundle : structure_->bundles) at_.bundle_waits.push_back(bundle.size);
  }

  [[nodiscard]] bool introduced(std::uint32_t v) const { return vertex(v).introduced; }
  [[nodiscard]] bool dropped(std::uint32_t v) const {
    return vertex(v).introduced && !vertex(v).open;
  }

  void introduce(std::uint32_t v) {
    ++changes_;
    vertex(v).introduced = true;
    if (applies_at_once(*structure_, *adjacency_, v) && vertex(v).children_closed == 0) {
      apply_root(v);
      return;
    }
    vertex(v).open = true;
    sink_->on_open(v);
    if (structure_->is_root(v)) {
      settle(v);
      return;
    }
    // In this order each link is worked off once: parents known before now; then whatever else
    // becomes possible, where a parent that becomes known finds this vertex open.
    announce(v);
    work_known_parents(v);
    work_bundles(v);
    introduce_ready_roots(v);
    settle(v);
  }

  /// Where the walk is. To try something, keep the position before and set it again after; the
  /// sink is the caller's to restore. A whole copy is cheaper than noting each change.
  [[nodiscard]] const Position& position() const { return at_; }
  void go_back_to(const Position& position) { at_ = position; }

  /// Vertices introduced and links worked off since the beginning, what was taken back included.
  [[nodiscard]] std::uint64_t changes() const { return changes_; }

 private:
  [[nodiscard]] std::pair<const Adjacency::Step*, const Adjacency::Step*> steps(
      const std::vector<Adjacency::Step>& all, Range range) const {
    return {all.data() + range.begin, all.data() + range.end};
  }

  /// Tells the parents that one more of their children is there.
  void announce(std::uint32_t v) {
    const auto [first, last] = steps(adjacency_->parent_steps, adjacency_->parents[v]);
    for (auto step = first; step != last; ++step) {
      --vertex(step->other).children_closed;
    }
  }

  void work_bundles(std::uint32_t v) {
    const Range range = adjacency_->bundles[v];
    for (std::uint32_t i = range.begin; i < range.end; ++i) {
      const std::uint32_t b = adjacency_->bundle_steps[i];
      if (--at_.bundle_waits[b] == 0) apply_bundle(b);
    }
  }

  void apply_bundle(std::uint32_t b) {
    const Bundle& bundle = structure_->bundles[b];
    sink_->on_bundle(b, bundle.size);
    for (std::uint32_t i = 0; i < bundle.size; ++i) count_parent(bundle.targets[i]);
    for (std::uint32_t i = 0; i < bundle.size; ++i) settle(bundle.targets[i]);
  }

  void apply_root(std::uint32_t v) {
    const auto [first, last] = steps(adjacency_->child_steps, adjacency_->children[v]);
    sink_->on_root_at_once(v, static_cast<std::size_t>(last - first));
    for (auto step = first; step != last; ++step) count_parent(step->other);
    for (auto step = first; step != last; ++step) settle(step->other);
  }

  void work_known_parents(std::uint32_t v) {
    const auto [first, last] = steps(adjacency_->parent_steps, adjacency_->parents[v]);
    for (auto step = first; step != last; ++step)
      if (vertex(step->other).open && vertex(step->other).known && may_work(step->arc, v))
        work_arc(step->other, v, step->arc);
  }

  /// A block comes after all that fires the same vertex.
  [[nodiscard]] bool may_work(std::uint32_t arc, std::uint32_t child) const {
    return adjacency_->blocker[child].arc != arc || vertex(child).parents_left == 1;
  }

  /// A root whose children are all open costs nothing more; every later moment would cost as much.
  void introduce_ready_roots(std::uint32_t v) {
    const auto [first, last] = steps(adjacency_->parent_steps, adjacency_->parents[v]);
    for (auto step = first; step != last; ++step) {
      const std::uint32_t p = step->other;
      if (structure_->is_root(p) && !vertex(p).introduced && vertex(p).children_closed == 0)
        introduce(p);
    }
  }

  void work_children(std::uint32_t v) {
    const auto [first, last] = steps(adjacency_->child_steps, adjacency_->children[v]);
    for (auto step = first; step != last; ++step)
      if (vertex(step->other).open && may_work(step->arc, step->other))
        work_arc(v, step->other, step->arc);
  }

  void work_arc(std::uint32_t parent, std::uint32_t child, std::uint32_t arc) {
    sink_->on_fire(arc);
    --vertex(parent).links_left;
    drop_if_done(parent);
    count_parent(child);
    settle(child);
  }

  void count_parent(std::uint32_t v) {
    ++changes_;
    --vertex(v).parents_left;
    --vertex(v).links_left;
  }

  /// A target all of whose parents are in is a state from now on; a root always is.
  void settle(std::uint32_t v) {
    const Adjacency::Step& blocker = adjacency_->blocker[v];
    if (blocker.arc != none && vertex(v).open && vertex(v).parents_left == 1 &&
        at_.vertices[blocker.other].open && at_.vertices[blocker.other].known) {
      work_arc(blocker.other, v, blocker.arc);
      return;
    }
    if (vertex(v).parents_left != 0 || vertex(v).known) return;
    vertex(v).known = true;
    work_children(v);
    drop_if_done(v);
  }

  void drop_if_done(std::uint32_t v) {
    if (!vertex(v).open || vertex(v).links_left != 0) return;
    vertex(v).open = false;
    sink_->on_drop(v);
  }

  [[nodiscard]] Vertex& vertex(std::uint32_t v) { return at_.vertices[v]; }
  [[nodiscard]] const Vertex& vertex(std::uint32_t v) const { return at_.vertices[v]; }

  const Structure* structure_;
  const Adjacency* adjacency_;
  Sink* sink_;
  Position at_;
  std::uint64_t changes_ = 0;
};

}  // namespace slipcase::network
