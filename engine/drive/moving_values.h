// Learned values after a clearing: whether they still move, and where they are heading.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>

#include "drive/card_facts.h"
#include "evaluation/states.h"
#include "profile/profile.h"
#include "slipcase/drive.h"

namespace slipcase::drive {

/// One value after another. `scatter` is that of a value that was read; the start may be the zero
/// of a clearing, which is exact.
struct ValuePoint {
  double value = 0.0;
  bool was_read = true;
};

/// Why a value that does not plainly move is not called settled.
enum class NotYet : std::uint8_t {
  creeping,         // the last step is more than a settled value makes
  not_driven,       // nothing was driven between the readings
  driving_unknown,  // the card does not say
};

struct ValueCourse {
  Heading heading = Heading::too_few;
  NotYet why = NotYet::creeping;  // with `not_yet`
  std::optional<double> estimate;
  std::optional<double> low;
  std::optional<double> high;
};

/// Whether the car was driven between two readings: further than a few kilometres.
enum class Driven : std::uint8_t { yes, no, unknown };

/// What lies between the readings.
struct Between {
  bool spans_alike = true;              // about as much driving between each two of the last three
  Driven last = Driven::yes;            // between the last two readings
  Driven since_clearing = Driven::yes;  // between the clearing and the last
};

/// Where a value ends is said only of spans that are alike, and that it is settled only if the car
/// was driven between the last two readings.
[[nodiscard]] ValueCourse course_of(std::span<const ValuePoint> points,
                                    const profile::ReadingBounds& bounds, const Between& between);

/// Values that a distrust of the rules sets aside are not used, save where the drive itself, under
/// the name it has in the rules, is what ends the distrust: whether they move is just what is
/// asked.
[[nodiscard]] MovingValues moving_values(const CardFacts& card,
                                         const evaluation::Evaluation& states,
                                         const std::string& drive);

}  // namespace slipcase::drive
