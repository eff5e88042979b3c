// The number types a sweep runs on: one double, or eight that go through the same steps together.
#pragma once

#include <cmath>
#include <cstddef>

namespace slipcase::network {

/// Eight sets of numbers over one program; each lane gives bit for bit what a double would.
/// A vector type of the compiler: it becomes whatever vector instructions the machine code may use.
struct Pack {
  static constexpr std::size_t size = 8;
  using Lanes __attribute__((vector_size(size * sizeof(double)))) = double;
  Lanes lane;

  friend Pack operator*(const Pack& a, const Pack& b) { return {a.lane * b.lane}; }
  friend Pack operator+(const Pack& a, const Pack& b) { return {a.lane + b.lane}; }
  Pack& operator+=(const Pack& b) {
    lane += b.lane;
    return *this;
  }
  Pack& operator*=(const Pack& b) {
    lane *= b.lane;
    return *this;
  }
};

template <class Lane>
inline constexpr std::size_t lanes = 1;
template <>
inline constexpr std::size_t lanes<Pack> = Pack::size;

inline double lane_of(const double& x, std::size_t) { return x; }
inline double lane_of(const Pack& x, std::size_t i) { return x.lane[i]; }

inline void set_lane(double& x, std::size_t, double value) { x = value; }
inline void set_lane(Pack& x, std::size_t i, double value) { x.lane[i] = value; }

template <class Lane>
Lane filled(double x) {
  Lane result;
  for (std::size_t i = 0; i < lanes<Lane>; ++i) set_lane(result, i, x);
  return result;
}

}  // namespace slipcase::network
