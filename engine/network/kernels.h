// The elementary steps over a vector of states and their transposes. Only non-negative numbers are
// added and multiplied, so no step loses digits.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

#include "network/lane.h"

namespace slipcase::network::kernels {

/// Doubles the vector: the new, highest bit is off with weight `no`, on with weight `yes`.
template <class Lane>
void open(const Lane* __restrict in, Lane* __restrict out, std::size_t n, const Lane& no,
          const Lane& yes) {
  const Lane off = no;
  const Lane on = yes;
  for (std::size_t i = 0; i < n; ++i) {
    out[i] = in[i] * off;
    out[n + i] = in[i] * on;
  }
}

template <class Lane>
void open_back(const Lane* __restrict back, Lane* __restrict out, std::size_t n, const Lane& no,
               const Lane& yes) {
  const Lane off = no;
  const Lane on = yes;
  for (std::size_t i = 0; i < n; ++i) out[i] = back[i] * off + back[n + i] * on;
}

/// Calls body(first, run) for runs of entries whose bits a and b are 0. n: entries in all.
template <class Body>
void for_clear_runs(std::size_t n, std::size_t a, std::size_t b, Body body) {
  const std::size_t low = a < b ? a : b;
  const std::size_t high = a < b ? b : a;
  for (std::size_t i = 0; i < n; i += 2 * high)
    for (std::size_t j = i; j < i + high; j += 2 * low) body(j, low);
}

/// Where bit `state` is on: the accumulator bit is fired with `fire`, left as it is with `pass`.
template <class Lane>
void fire(Lane* v, std::size_t n, std::size_t state, std::size_t target, const Lane& pass,
          const Lane& fire) {
  const Lane keep = pass;
  const Lane set = fire;
  for_clear_runs(n, state, target, [&](std::size_t first, std::size_t run) {
    Lane* __restrict off = v + first + state;
    Lane* __restrict on = v + first + state + target;
    for (std::size_t k = 0; k < run; ++k) {
      on[k] += off[k] * set;
      off[k] *= keep;
    }
  });
}

template <class Lane>
void fire_back(Lane* v, std::size_t n, std::size_t state, std::size_t target, const Lane& pass,
               const Lane& fire) {
  const Lane keep = pass;
  const Lane set = fire;
  for_clear_runs(n, state, target, [&](std::size_t first, std::size_t run) {
    Lane* __restrict off = v + first + state;
    const Lane* __restrict on = v + first + state + target;
    for (std::size_t k = 0; k < run; ++k) off[k] = off[k] * keep + on[k] * set;
  });
}

/// Where bit `state` is on: the accumulator bit is cleared, its weight kept.
template <class Lane>
void block(Lane* v, std::size_t n, std::size_t state, std::size_t target) {
  for_clear_runs(n, state, target, [&](std::size_t first, std::size_t run) {
    Lane* __restrict off = v + first + state;
    Lane* __restrict on = v + first + state + target;
    for (std::size_t k = 0; k < run; ++k) {
      off[k] += on[k];
      on[k] = filled<Lane>(0.0);
    }
  });
}

template <class Lane>
void block_back(Lane* v, std::size_t n, std::size_t state, std::size_t target) {
  for_clear_runs(n, state, target, [&](std::size_t first, std::size_t run) {
    const Lane* __restrict off = v + first + state;
    Lane* __restrict on = v + first + state + target;
    for (std::size_t k = 0; k < run; ++k) on[k] = off[k];
  });
}

/// Drops a bit: out = no * off half + yes * on half. n: entries of `out`.
template <class Lane>
void sum_out(const Lane* __restrict in, Lane* __restrict out, std::size_t n, std::size_t bit,
             const Lane& no, const Lane& yes) {
  const Lane off = no;
  const Lane on = yes;
  for (std::size_t i = 0; i < n; i += bit)
    for (std::size_t k = 0; k < bit; ++k)
      out[i + k] = in[2 * i + k] * off + in[2 * i + bit + k] * on;
}

template <class Lane>
void sum_out_back(const Lane* __restrict back, Lane* __restrict out, std::size_t n, std::size_t bit,
                  const Lane& no, const Lane& yes) {
  const Lane off = no;
  const Lane on = yes;
  for (std::size_t i = 0; i < n; i += bit)
    for (std::size_t k = 0; k < bit; ++k) {
      out[2 * i + k] = back[i + k] * off;
      out[2 * i + bit + k] = back[i + k] * on;
    }
}

template <class Lane>
void keep_on(const Lane* __restrict in, Lane* __restrict out, std::size_t n, std::size_t bit) {
  for (std::size_t i = 0; i < n; i += bit)
    for (std::size_t k = 0; k < bit; ++k) out[i + k] = in[2 * i + bit + k];
}

template <class Lane>
void keep_on_back(const Lane* __restrict back, Lane* __restrict out, std::size_t n,
                  std::size_t bit) {
  for (std::size_t i = 0; i < n; i += bit)
    for (std::size_t k = 0; k < bit; ++k) {
      out[2 * i + k] = filled<Lane>(0.0);
      out[2 * i + bit + k] = back[i + k];
    }
}

/// A dot product over [n]; four running sums keep the rounding error and the latency low.
template <class Lane>
Lane dot(const Lane* __restrict a, const Lane* __restrict b, std::size_t n) {
  if (n == 1) return a[0] * b[0];
  if (n == 2) return a[0] * b[0] + a[1] * b[1];
  std::array<Lane, 4> sum;
  sum.fill(filled<Lane>(0.0));
  std::size_t i = 0;
  for (; i + 4 <= n; i += 4)
    for (std::size_t k = 0; k < 4; ++k) sum[k] += a[i + k] * b[i + k];
  for (; i < n; ++i) sum[0] += a[i] * b[i];
  return (sum[0] + sum[1]) + (sum[2] + sum[3]);
}

template <class Lane>
Lane total(const Lane* v, std::size_t n) {
  if (n == 1) return v[0];
  if (n == 2) return v[0] + v[1];
  std::array<Lane, 4> sum{v[0], v[1], v[2], v[3]};
  for (std::size_t i = 4; i < n; i += 4)
    for (std::size_t k = 0; k < 4; ++k) sum[k] += v[i + k];
  return (sum[0] + sum[1]) + (sum[2] + sum[3]);
}

/// The off and on parts of a dot product of two vectors split by a bit. n: entries of one half.
template <class Lane>
std::array<Lane, 2> dot_halves(const Lane* a, const Lane* b, std::size_t n, std::size_t bit) {
  std::array<Lane, 2> sum;
  sum.fill(filled<Lane>(0.0));
  for (std::size_t i = 0; i < n; i += bit) {
    sum[0] += dot(a + 2 * i, b + 2 * i, bit);
    sum[1] += dot(a + 2 * i + bit, b + 2 * i + bit, bit);
  }
  return sum;
}

/// The entries of the sets of a bundle's targets relative to the empty set.
template <std::size_t Size>
std::array<std::size_t, std::size_t{1} << Size> set_offsets(
    const std::array<std::uint8_t, 3>& bit) {
  std::array<std::size_t, std::size_t{1} << Size> offset{};
  for (std::size_t set = 0; set < offset.size(); ++set)
    for (std::size_t i = 0; i < Size; ++i)
      if ((set >> i & 1U) != 0) offset[set] += std::size_t{1} << bit[i];
  return offset;
}

/// Calls body(first, run) for runs of entries whose bits are all 0.
template <std::size_t Size, class Body>
void for_empty_runs(std::size_t n, std::array<std::uint8_t, 3> bit, Body body) {
  std::array<std::size_t, Size> place{};
  for (std::size_t i = 0; i < Size; ++i) {
    place[i] = std::size_t{1} << bit[i];
    for (std::size_t k = i; k > 0 && place[k] < place[k - 1]; --k)
      std::swap(place[k], place[k - 1]);
  }
  const std::size_t run = place[0];
  if constexpr (Size == 2) {
    for_clear_runs(n, place[0], place[1], body);
  } else {
    for (std::size_t h = 0; h < n; h += 2 * place[2])
      for (std::size_t i = h; i < h + place[2]; i += 2 * place[1])
        for (std::size_t j = i; j < i + place[1]; j += 2 * place[0]) body(j, run);
  }
}

/// out[to] = sum over from of kernel[to][from] * in[from], from a subset of to.
template <std::size_t Size, class Lane>
void apply_bundle(const Lane* __restrict in, Lane* __restrict out, std::size_t n,
                  const std::array<std::uint8_t, 3>& bit, const Lane* kernel) {
  constexpr std::size_t sets = std::size_t{1} << Size;
  const auto offset = set_offsets<Size>(bit);
  for_empty_runs<Size>(n, bit, [&](std::size_t first, std::size_t run) {
    for (std::size_t to = 0; to < sets; ++to) {
      Lane* __restrict result = out + first + offset[to];
      const Lane* __restrict start = in + first;
      for (std::size_t k = 0; k < run; ++k) result[k] = start[k] * kernel[to * sets];
      for (std::size_t from = 1; from <= to; ++from) {
        if ((from & ~to) != 0) continue;
        const Lane factor = kernel[to * sets + from];
        const Lane* __restrict x = in + first + offset[from];
        for (std::size_t k = 0; k < run; ++k) result[k] += x[k] * factor;
      }
    }
  });
}

/// The transpose; also adds to flow[fired] what passes if exactly `fired` is fired by the bundle.
template <std::size_t Size, class Lane>
void apply_bundle_back(const Lane* __restrict in, const Lane* __restrict back, Lane* __restrict out,
                       std::size_t n, const std::array<std::uint8_t, 3>& bit, const Lane* kernel,
                       Lane* flow) {
  constexpr std::size_t sets = std::size_t{1} << Size;
  const auto offset = set_offsets<Size>(bit);
  std::array<Lane, sets * sets> passed;  // by from and to
  passed.fill(filled<Lane>(0.0));
  for_empty_runs<Size>(n, bit, [&](std::size_t first, std::size_t run) {
    for (std::size_t from = 0; from < sets; ++from) {
      Lane* __restrict result = out + first + offset[from];
      const Lane* __restrict x = in + first + offset[from];
      for (std::size_t k = 0; k < run; ++k) result[k] = filled<Lane>(0.0);
      for (std::size_t to = from; to < sets; ++to) {
        if ((from & ~to) != 0) continue;
        const Lane factor = kernel[to * sets + from];
        const Lane* __restrict b = back + first + offset[to];
        for (std::size_t k = 0; k < run; ++k) result[k] += b[k] * factor;
        passed[from * sets + to] += dot(x, b, run);
      }
    }
  });
  for (std::size_t fired = 0; fired < sets; ++fired)
    for (std::size_t from = 0; from < sets; ++from)
      flow[fired] += passed[from * sets + (from | fired)];
}

}  // namespace slipcase::network::kernels
