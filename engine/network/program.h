// A structure and an order made into steps over one vector of states.
//
// The vector has one entry per setting of the open bits. A new bit is the highest; dropping a bit
// closes the gap. Steps that need their input again on the way back have a place for it in an
// arena.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "network/layout.h"
#include "network/structure.h"

namespace slipcase::network {

struct Op {
  enum class Kind : std::uint8_t {
    open_target,   // item: target; the vector doubles by (not fired, fired) from its own rate
    open_root,     // item: index into Structure::roots; doubles by (absent, present)
    fire,          // item: arc; bit[0]: the parent's state, bit[1]: the child's accumulator
    block,         // item: arc; bit[0]: the parent's state, bit[1]: the bit it clears
    apply_bundle,  // item: index into Program::bundles; bit: the targets, in the bundle's order
    forget,        // item: vertex; sums over the state bit[0]
    keep_fired,    // item: target; keeps the fired half of bit[0]
  };
  static constexpr std::size_t nowhere = static_cast<std::size_t>(-1);

  Kind kind = Kind::fire;
  std::uint8_t bits = 0;  // open before the step
  std::array<std::uint8_t, bundle_limit> bit{};
  std::uint32_t item = 0;
  std::size_t saved = nowhere;   // where the input is kept for the way back
  std::size_t result = nowhere;  // where the output goes: the next input's place, if that is kept
};

struct Program {
  Structure structure;               // bundles: also the roots applied at once
  std::vector<std::uint32_t> order;  // of the vertices: Layout::order
  std::vector<Op> ops;
  std::size_t arena = 0;                  // states kept
  std::size_t first_place = Op::nowhere;  // where the starting vector goes
  unsigned width = 0;
  double cost = 0;
};

[[nodiscard]] Program make_program(Structure structure, const Adjacency& adjacency,
                                   const Layout& layout);

}  // namespace slipcase::network
