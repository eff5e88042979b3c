// Learned values after a clearing: whether they still move, and where they are heading.
#pragma once

#include <optional>
#include <span>

#include "drive/card_facts.h"
#include "profile/profile.h"
#include "slipcase/drive.h"

namespace slipcase::drive {

/// One value after another. `scatter` is that of a value that was read; the start may be the zero
/// of a clearing, which is exact.
struct ValuePoint {
  double value = 0.0;
  bool was_read = true;
};

struct ValueCourse {
  Heading heading = Heading::too_few;
  std::optional<double> estimate;
  std::optional<double> low;
  std::optional<double> high;
};

/// `spans_alike`: about as much was driven between each two of the last three points; only then is
/// anything said of where they end.
[[nodiscard]] ValueCourse course_of(std::span<const ValuePoint> points,
                                    const profile::ReadingBounds& bounds, bool spans_alike);

[[nodiscard]] MovingValues moving_values(const CardFacts& card);

}  // namespace slipcase::drive
