// What the sweep works on: accumulators, roots and the links between them, without numbers.
//
// An accumulator ("target") says "already fired": of a positive finding, or of a hidden node with
// parents, where it becomes the node's state once all parents are in. A root is a hidden node
// without parents. A positive finding with one parent needs no accumulator. Three kinds of roots
// need no state of their own in the sweep:
//   no target:       its posterior is a closed form
//   one target:      folded into the target's own rate
//   two or three:    roots with the same targets are one "bundle", applied when all are open
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "network/situation.h"
#include "network/wiring.h"

namespace slipcase::network {

inline constexpr std::uint32_t none = 0xffffffff;
inline constexpr std::size_t bundle_limit = 3;

/// One link of a target, by its place among the target's links in the Wiring.
struct LinkRef {
  std::uint32_t target = 0;
  std::uint32_t position = 0;
};

/// A root folded into a target or bundle; link[i] belongs to the i-th target, none where it has
/// none.
struct Member {
  std::uint32_t hidden = 0;
  std::array<std::uint32_t, bundle_limit> link{none, none, none};
};

struct Range {
  std::uint32_t begin = 0;
  std::uint32_t end = 0;
  [[nodiscard]] std::uint32_t size() const { return end - begin; }
};

struct Target {
  bool is_finding = false;
  bool keep_fired = false;  // only the fired half survives (else it becomes a state)
  std::uint32_t id = 0;     // place among the positives, or the hidden node
  Range singles{};          // in Structure::members
  Range present_parents{};  // in Structure::branch_links: parents present in this branch
};

struct Bundle {
  std::array<std::uint32_t, bundle_limit> targets{none, none, none};  // rising
  std::uint32_t size = 0;
  Range members{};
};

/// A link from a root or from a target that becomes a state.
struct Arc {
  std::uint32_t parent = 0;  // vertex
  std::uint32_t child = 0;   // target
  std::uint32_t link = 0;    // in Structure::links
  bool blocks = false;       // clears the child where the parent is present, after all else
};

struct Structure {
  // Vertices: first the targets, then the roots.
  std::vector<Target> targets;
  std::vector<std::uint32_t> roots;  // hidden nodes
  std::vector<Arc> arcs;
  std::vector<Bundle> bundles;
  std::vector<Member> members;
  std::vector<LinkRef> links;
  std::vector<std::uint32_t> branch_links;   // links of parents that are present in this branch
  std::vector<std::uint32_t> idle_roots;     // no target: closed form
  std::vector<std::uint32_t> branch_absent;  // with parents; enter like absent findings
  std::vector<std::uint32_t> plain;  // positives with at most one parent: they only weigh it

  [[nodiscard]] std::size_t vertex_count() const { return targets.size() + roots.size(); }
  [[nodiscard]] bool is_root(std::size_t vertex) const { return vertex >= targets.size(); }
};

[[nodiscard]] Structure build_structure(const Wiring& wiring, const Situation& situation);

/// For every hidden node the sorted connected parts of the structure its posterior hangs on. Nodes
/// with disjoint parts are independent given the evidence.
[[nodiscard]] std::vector<std::vector<std::uint32_t>> parts_of_hidden(const Wiring& wiring,
                                                                      const Situation& situation,
                                                                      const Structure& structure);

}  // namespace slipcase::network
