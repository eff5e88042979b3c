// When something was, and what came first.
//
// A card gives a date, an odometer reading, or both. Things that have both tie the two together:
// what happened at 120000 km happened before the day on which the car had 130000 km. Where the
// order of two things does not follow from the card it is unknown, and so is what hangs on it.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "evaluation/interval.h"

namespace slipcase::evaluation {

struct Moment {
  // As written.
  std::optional<std::int64_t> day;      // since 1970
  std::optional<std::uint16_t> minute;  // of that day
  std::optional<double> odometer;       // in the base unit of distance
  /// Readings come before the events of their day, unless they are marked `after` one of them.
  bool is_reading = false;
  std::optional<std::uint32_t> follows;  // the event of that day (by index) it is marked `after`

  // What follows from the rest of the card.
  Interval days = Interval::anything();
  Interval odometers = Interval::anything();
  /// The odometer never falls within one stretch; none: it is not known in which one this was.
  std::optional<std::uint32_t> stretch;
};

/// Where the first of two stands to the second.
enum class Order : std::uint8_t { before, after, unknown };

[[nodiscard]] constexpr Truth is_before(Order order) {
  if (order == Order::unknown) return Truth::unknown;
  return truth(order == Order::before);
}
[[nodiscard]] constexpr Truth is_after(Order order) {
  if (order == Order::unknown) return Truth::unknown;
  return truth(order == Order::after);
}

/// `events` are the moments that `follows` points into.
[[nodiscard]] Order compare(const Moment& a, const Moment& b, std::span<const Moment> events);

/// Two things one behind the other by date, between which the odometer fell.
struct OdometerFall {
  std::size_t from = 0;
  std::size_t to = 0;
};

/// Fills in what follows for every moment from those that have both date and odometer.
/// `now` counts as one of them. Returns every fall, as places in `moments`.
[[nodiscard]] std::vector<OdometerFall> tie_together(std::span<Moment* const> moments);

/// Days from the first to the second; whole days unless both have a time.
[[nodiscard]] Interval days_between(const Moment& from, const Moment& to);
/// Distance from the first to the second; open where the odometer fell between them.
[[nodiscard]] Interval distance_between(const Moment& from, const Moment& to);

}  // namespace slipcase::evaluation
