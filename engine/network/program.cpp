#include "network/program.h"

#include <algorithm>

namespace slipcase::network {
namespace {

/// Writes down what the walk does, with the bits' places.
class Writer {
 public:
  Writer(Structure& structure, const Adjacency& adjacency, Program& program)
      : structure_(structure), adjacency_(adjacency), program_(program) {}

  void on_open(std::uint32_t v) {
    const bool root = structure_.is_root(v);
    add(root ? Op::Kind::open_root : Op::Kind::open_target,
        root ? v - static_cast<std::uint32_t>(structure_.targets.size()) : v);
    open_.push_back(v);
    tally_.on_open(v);
  }

  void on_fire(std::uint32_t a) {
    const Arc& arc = structure_.arcs[a];
    add(arc.blocks ? Op::Kind::block : Op::Kind::fire, a).bit = {bit_of(arc.parent),
                                                                 bit_of(arc.child), 0};
    tally_.on_fire(a);
  }

  void on_bundle(std::uint32_t b, std::size_t size) {
    add_bundle(b);
    tally_.on_bundle(b, size);
  }

  void on_root_at_once(std::uint32_t v, std::size_t size) {
    const std::uint32_t root = v - static_cast<std::uint32_t>(structure_.targets.size());
    Bundle bundle{.size = static_cast<std::uint32_t>(size)};
    Member member{.hidden = structure_.roots[root]};
    for (std::uint32_t i = 0; i < size; ++i) {
      const std::uint32_t a = adjacency_.child_steps[adjacency_.children[v].begin + i].arc;
      bundle.targets[i] = structure_.arcs[a].child;
      member.link[i] = structure_.arcs[a].link;
    }
    bundle.members.begin = static_cast<std::uint32_t>(structure_.members.size());
    bundle.members.end = bundle.members.begin + 1;
    structure_.members.push_back(member);
    extra_.push_back(bundle);
    add_bundle(static_cast<std::uint32_t>(structure_.bundles.size() + extra_.size()) - 1);
    tally_.on_root_at_once(v, size);
  }

  void on_drop(std::uint32_t v) {
    const bool keep_fired = !structure_.is_root(v) && structure_.targets[v].keep_fired;
    add(keep_fired ? Op::Kind::keep_fired : Op::Kind::forget, v).bit[0] = bit_of(v);
    std::erase(open_, v);
    tally_.on_drop(v);
  }

  void finish() {
    structure_.bundles.insert(structure_.bundles.end(), extra_.begin(), extra_.end());
    program_.cost = tally_.cost;
    program_.width = tally_.width;
  }

 private:
  Op& add(Op::Kind kind, std::uint32_t item) {
    Op op;
    op.kind = kind;
    op.bits = static_cast<std::uint8_t>(open_.size());
    op.item = item;
    return program_.ops.emplace_back(op);
  }

  void add_bundle(std::uint32_t b) {
    const auto& targets = bundle(b).targets;
    Op& op = add(Op::Kind::apply_bundle, b);
    for (std::uint32_t i = 0; i < bundle(b).size; ++i) op.bit[i] = bit_of(targets[i]);
  }

  [[nodiscard]] const Bundle& bundle(std::uint32_t b) const {
    const std::size_t own = structure_.bundles.size();
    return b < own ? structure_.bundles[b] : extra_[b - own];
  }

  [[nodiscard]] std::uint8_t bit_of(std::uint32_t v) const {
    return static_cast<std::uint8_t>(std::ranges::find(open_, v) - open_.begin());
  }

  Structure& structure_;
  const Adjacency& adjacency_;
  Program& program_;
  std::vector<std::uint32_t> open_;  // the vertex of each bit
  std::vector<Bundle> extra_;        // roots applied at once; the walk still counts the others
  Tally tally_;
};

bool works_in_place(const Op& op) {
  return op.kind == Op::Kind::fire || op.kind == Op::Kind::block;
}

/// The posterior is read off where a node enters (roots) or is summed out (targets).
bool needs_input_again(const Structure& structure, const Op& op) {
  switch (op.kind) {
    case Op::Kind::open_target:
      return structure.targets[op.item].singles.size() > 0;
    case Op::Kind::open_root:
    case Op::Kind::apply_bundle:
      return true;
    case Op::Kind::forget:
      return !structure.is_root(op.item);
    case Op::Kind::fire:
    case Op::Kind::block:
    case Op::Kind::keep_fired:
      return false;
  }
  return false;
}

void place_vectors(Program& program) {
  for (Op& op : program.ops) {
    if (!needs_input_again(program.structure, op)) continue;
    op.saved = program.arena;
    program.arena += std::size_t{1} << op.bits;
  }
  std::size_t place = Op::nowhere;
  for (auto op = program.ops.rbegin(); op != program.ops.rend(); ++op) {
    if (works_in_place(*op)) continue;
    op->result = place;
    place = op->saved;
  }
  program.first_place = place;
}

}  // namespace

Program make_program(Structure structure, const Adjacency& adjacency, const Layout& layout) {
  Program program;
  program.structure = std::move(structure);
  Writer writer(program.structure, adjacency, program);
  Front<Writer> front(program.structure, adjacency, writer);
  for (const std::uint32_t v : layout.order)
    if (!front.introduced(v)) front.introduce(v);
  writer.finish();
  program.order = layout.order;
  place_vectors(program);
  return program;
}

}  // namespace slipcase::network
