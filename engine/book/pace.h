// How fast the newest values leave zero, and how near they are to the limit: in shares of the
// limit, from one routine visit to the next. The shares are common practice, no source: of 300
// mbar, 80 from one visit to the next, or 50 twice in a row, are fast, 30 are to be watched.
#pragma once

#include <cstdint>
#include <optional>
#include <span>

#include "book/judge.h"

namespace slipcase::book {

inline constexpr double fast_share = 1.0 / 4.0;        // from one routine visit to the next
inline constexpr double fast_twice_share = 1.0 / 6.0;  // two visits in a row, or a slope
inline constexpr double watch_share = 1.0 / 10.0;

/// Of one reading; all in base units.
struct PaceLimits {
  double low = 0.0;
  double high = 0.0;
  double least_difference = 0.0;  // two readings of the same thing differ by less
  double routine = 0.0;           // distance from one routine visit to the next
  double least_run = 0.0;         // over less distance a change is not scaled up
};

/// The newest value against the last one that is far enough behind it.
struct NewestChange {
  double change = 0.0;
  double run = 0.0;
};
[[nodiscard]] std::optional<NewestChange> newest_change(std::span<const evaluation::TrendPoint>,
                                                        double least_run);

/// Two neighbours differ by more than scatter.
[[nodiscard]] bool changed(std::span<const evaluation::TrendPoint> points, double least_difference);

/// The newest value is not at the limit, but so near that another reading may be.
[[nodiscard]] bool is_near_limit(double value, const PaceLimits& limits);

enum class Pace : std::uint8_t {
  slow,
  watch,
  steep,       // the slope
  fast,        // the newest change
  fast_twice,  // the newest two, one like the other
};

/// Away from zero only, and only by more than scatter. `points` oldest first.
[[nodiscard]] Pace pace_of(std::span<const evaluation::TrendPoint> points, const Judged& judged,
                           const PaceLimits& limits);

/// Distance to the limit if the newest change went on like that; no forecast, only to look in time.
/// Nothing where it does not lead away from zero or the two values are too near to each other.
[[nodiscard]] std::optional<double> ahead_at_pace(std::span<const evaluation::TrendPoint> points,
                                                  const PaceLimits& limits);

}  // namespace slipcase::book
