#include "network/sweep.h"

#include <algorithm>
#include <cmath>

#include "network/kernels.h"

namespace slipcase::network {
namespace {

std::size_t states(const Op& op) { return std::size_t{1} << op.bits; }
std::size_t place(const Op& op, std::size_t i) { return std::size_t{1} << op.bit[i]; }

/// Brings a vector back to size 1 before it can underflow; the exponents go to `scale`.
template <class Lane>
void rescale(Lane* v, std::size_t n, std::array<Scaled, lanes<Lane>>* scale) {
  const Lane sum = kernels::total(v, n);
  Lane factor = filled<Lane>(1.0);
  bool needed = false;
  for (std::size_t l = 0; l < lanes<Lane>; ++l) {
    const double x = lane_of(sum, l);
    if (!(x > 0.0 && x < 0x1p-100)) continue;
    const int exponent = std::ilogb(x);
    set_lane(factor, l, std::ldexp(1.0, -exponent));
    if (scale != nullptr) (*scale)[l].times_power_of_two(exponent);
    needed = true;
  }
  if (!needed) return;
  for (std::size_t i = 0; i < n; ++i) v[i] *= factor;
}

/// What the members of a bundle have to do with the flow through it: the way back through them.
template <class Lane>
void read_members(const Structure& structure, const Bundle& bundle, const Coefficients<Lane>& c,
                  const BundleNumbers<Lane>& numbers, std::array<Lane, 8>& back,
                  std::vector<Pair<Lane>>& result) {
  const std::size_t sets = std::size_t{1} << bundle.size;
  for (std::uint32_t m = bundle.members.size(); m-- > 0;) {
    const Member& member = structure.members[bundle.members.begin + m];
    const Pair<Lane>& root = c.root[member.hidden];
    const Lane* before = numbers.before.data() + m * sets;
    std::array<Lane, 8> present = back;
    for (std::size_t i = 0; i < bundle.size; ++i)
      if (member.link[i] != none)
        for (std::size_t set = 0, bit = std::size_t{1} << i; set < sets; ++set)
          if ((set & bit) == 0)
            present[set] =
                present[set] * c.pass[member.link[i]] + present[set | bit] * c.fire[member.link[i]];
    result[member.hidden] = {root.no * kernels::dot(before, back.data(), sets),
                             root.yes * kernels::dot(before, present.data(), sets)};
    for (std::size_t set = 0; set < sets; ++set)
      back[set] = root.no * back[set] + root.yes * present[set];
  }
}

/// The same for the roots folded into one target.
template <class Lane>
void read_singles(const Structure& structure, std::size_t target, const Coefficients<Lane>& c,
                  const Pair<Lane>& flow, std::vector<Pair<Lane>>& result) {
  Pair<Lane> back = flow;
  const Range range = structure.targets[target].singles;
  for (std::uint32_t m = range.size(); m-- > 0;) {
    const Member& member = structure.members[range.begin + m];
    const Pair<Lane>& root = c.root[member.hidden];
    const Pair<Lane>& before = c.singles[target][m];
    const Lane present = back.no * c.pass[member.link[0]] + back.yes * c.fire[member.link[0]];
    result[member.hidden] = {root.no * (before.no * back.no + before.yes * back.yes),
                             root.yes * (before.no * present + before.yes * back.yes)};
    back.no = root.no * back.no + root.yes * present;
    back.yes *= root.no + root.yes;
  }
}

}  // namespace

template <class Lane>
void Sweep<Lane>::reserve(const Program& program, bool keep) {
  const std::size_t widest = std::size_t{1} << program.width;
  for (Buffer<Lane>& scratch : scratch_) scratch.reserve(widest);
  if (keep) arena_.reserve(program.arena);
}

template <class Lane>
Lane* Sweep<Lane>::place_for(std::size_t kept, const Lane* current) {
  if (kept != Op::nowhere) return arena_.data() + kept;
  return current == scratch_[0].data() ? scratch_[1].data() : scratch_[0].data();
}

template <class Lane>
void Sweep<Lane>::step(const Program& program, const Coefficients<Lane>& c, const Op& op,
                       const Lane* in, Lane* out) const {
  const std::size_t n = states(op);
  switch (op.kind) {
    case Op::Kind::open_target: {
      const Pair<Lane>& rate = c.singles[op.item].back();
      return kernels::open(in, out, n, rate.no, rate.yes);
    }
    case Op::Kind::open_root: {
      const Pair<Lane>& rate = c.root[program.structure.roots[op.item]];
      return kernels::open(in, out, n, rate.no, rate.yes);
    }
    case Op::Kind::apply_bundle: {
      const Lane* kernel = c.bundles[op.item].kernel.data();
      if (program.structure.bundles[op.item].size == 2)
        return kernels::apply_bundle<2>(in, out, n, op.bit, kernel);
      return kernels::apply_bundle<3>(in, out, n, op.bit, kernel);
    }
    case Op::Kind::forget: {
      const Lane one = filled<Lane>(1.0);
      const bool root = program.structure.is_root(op.item);
      return kernels::sum_out(in, out, n / 2, place(op, 0), root ? one : c.state[op.item].no,
                              root ? one : c.state[op.item].yes);
    }
    case Op::Kind::keep_fired:
      return kernels::keep_on(in, out, n / 2, place(op, 0));
    case Op::Kind::fire:
    case Op::Kind::block:
      return;  // in place, see forward()
  }
}

template <class Lane>
std::array<Scaled, lanes<Lane>> Sweep<Lane>::forward(const Program& program,
                                                     const Coefficients<Lane>& c, bool keep) {
  reserve(program, keep);
  std::array<Scaled, lanes<Lane>> chance = c.constant;
  Lane* current = place_for(keep ? program.first_place : Op::nowhere, nullptr);
  *current = filled<Lane>(1.0);
  for (const Op& op : program.ops) {
    if (op.kind == Op::Kind::fire) {
      const std::uint32_t link = program.structure.arcs[op.item].link;
      kernels::fire(current, states(op), place(op, 0), place(op, 1), c.pass[link], c.fire[link]);
      continue;
    }
    if (op.kind == Op::Kind::block) {
      kernels::block(current, states(op), place(op, 0), place(op, 1));
      continue;
    }
    Lane* next = place_for(keep ? op.result : Op::nowhere, current);
    step(program, c, op, current, next);
    current = next;
    if (op.kind == Op::Kind::keep_fired || op.kind == Op::Kind::forget)
      rescale(current, states(op) / 2, &chance);
  }
  for (std::size_t l = 0; l < lanes<Lane>; ++l) chance[l].times(lane_of(*current, l));
  return chance;
}

template <class Lane>
Lane* Sweep<Lane>::step_back(const Program& program, const Coefficients<Lane>& c, const Op& op,
                             Lane* back, std::vector<Pair<Lane>>& result) {
  const Structure& s = program.structure;
  const std::size_t n = states(op);
  const Lane* in = op.saved == Op::nowhere ? nullptr : arena_.data() + op.saved;
  Lane* out = place_for(Op::nowhere, back);
  switch (op.kind) {
    case Op::Kind::fire: {
      const std::uint32_t link = s.arcs[op.item].link;
      kernels::fire_back(back, n, place(op, 0), place(op, 1), c.pass[link], c.fire[link]);
      return back;
    }
    case Op::Kind::block:
      kernels::block_back(back, n, place(op, 0), place(op, 1));
      return back;
    case Op::Kind::open_target: {
      if (in != nullptr)
        read_singles(s, op.item, c, {kernels::dot(in, back, n), kernels::dot(in, back + n, n)},
                     result);
      const Pair<Lane>& rate = c.singles[op.item].back();
      kernels::open_back(back, out, n, rate.no, rate.yes);
      break;
    }
    case Op::Kind::open_root: {
      const std::uint32_t h = s.roots[op.item];
      result[h] = {c.root[h].no * kernels::dot(in, back, n),
                   c.root[h].yes * kernels::dot(in, back + n, n)};
      kernels::open_back(back, out, n, c.root[h].no, c.root[h].yes);
      break;
    }
    case Op::Kind::apply_bundle: {
      const Bundle& bundle = s.bundles[op.item];
      const BundleNumbers<Lane>& numbers = c.bundles[op.item];
      std::array<Lane, 8> flow;
      flow.fill(filled<Lane>(0.0));
      if (bundle.size == 2) {
        kernels::apply_bundle_back<2>(in, back, out, n, op.bit, numbers.kernel.data(), flow.data());
      } else {
        kernels::apply_bundle_back<3>(in, back, out, n, op.bit, numbers.kernel.data(), flow.data());
      }
      read_members(s, bundle, c, numbers, flow, result);
      break;
    }
    case Op::Kind::forget: {
      const Lane one = filled<Lane>(1.0);
      const Pair<Lane> weight = in == nullptr ? Pair<Lane>{one, one} : c.state[op.item];
      kernels::sum_out_back(back, out, n / 2, place(op, 0), weight.no, weight.yes);
      if (in != nullptr) {
        const auto half = kernels::dot_halves(in, out, n / 2, place(op, 0));
        result[s.targets[op.item].id] = {half[0], half[1]};
      }
      return out;
    }
    case Op::Kind::keep_fired:
      kernels::keep_on_back(back, out, n / 2, place(op, 0));
      return out;
  }
  if (op.kind != Op::Kind::apply_bundle) rescale(out, n, nullptr);
  return out;
}

template <class Lane>
void Sweep<Lane>::backward(const Program& program, const Coefficients<Lane>& c,
                           std::vector<Pair<Lane>>& result) {
  Lane* back = scratch_[0].data();
  *back = filled<Lane>(1.0);
  for (auto op = program.ops.rbegin(); op != program.ops.rend(); ++op)
    back = step_back(program, c, *op, back, result);
}

template class Sweep<double>;
template class Sweep<Pack>;

}  // namespace slipcase::network
