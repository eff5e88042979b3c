// Values that may be known only within bounds.
//
// A known value is an interval of one point, an unknown one all that it could be. Whatever is
// worked out from intervals holds everything that could come out, so a comparison is yes or no only
// if it is so for every possible value. Ends may be infinite; no operation makes a NaN.
#pragma once

#include <cmath>
#include <limits>

#include "evaluation/truth.h"

namespace slipcase::evaluation {

inline constexpr double infinite = std::numeric_limits<double>::infinity();

struct Interval {
  double low = -infinite;
  double high = infinite;

  [[nodiscard]] static constexpr Interval point(double value) { return {value, value}; }
  [[nodiscard]] static constexpr Interval anything() { return {}; }
  /// An infinite point is known: the time since what certainly never happened.
  [[nodiscard]] constexpr bool is_known() const { return low == high; }

  friend constexpr bool operator==(const Interval&, const Interval&) = default;
};

[[nodiscard]] constexpr Truth less(const Interval& a, const Interval& b) {
  if (a.high < b.low) return Truth::yes;
  return a.low >= b.high ? Truth::no : Truth::unknown;
}
[[nodiscard]] constexpr Truth less_equal(const Interval& a, const Interval& b) {
  return negation(less(b, a));
}
[[nodiscard]] constexpr Truth equal(const Interval& a, const Interval& b) {
  if (a.high < b.low || b.high < a.low) return Truth::no;
  return a.is_known() && b.is_known() ? Truth::yes : Truth::unknown;
}

[[nodiscard]] constexpr Interval magnitude(const Interval& a) {
  if (a.low >= 0.0) return a;
  if (a.high <= 0.0) return {-a.high, -a.low};
  return {0.0, -a.low > a.high ? -a.low : a.high};
}

/// a - b. The same infinity on both sides leaves everything open.
[[nodiscard]] inline Interval difference(const Interval& a, const Interval& b) {
  const double low = a.low - b.high;
  const double high = a.high - b.low;
  return {std::isnan(low) ? -infinite : low, std::isnan(high) ? infinite : high};
}

[[nodiscard]] inline Interval scaled(const Interval& a, double factor) {
  if (factor == 0.0) return Interval::point(0.0);
  return factor > 0.0 ? Interval{a.low * factor, a.high * factor}
                      : Interval{a.high * factor, a.low * factor};
}

/// a / b; everything is open where b could be 0.
[[nodiscard]] inline Interval quotient(const Interval& a, const Interval& b) {
  if (b.low <= 0.0 && b.high >= 0.0) return Interval::anything();
  Interval result{infinite, -infinite};
  for (const double over : {a.low, a.high}) {
    for (const double under : {b.low, b.high}) {
      const double ratio = over / under;
      if (std::isnan(ratio)) return Interval::anything();
      result.low = std::min(result.low, ratio);
      result.high = std::max(result.high, ratio);
    }
  }
  return result;
}

}  // namespace slipcase::evaluation
