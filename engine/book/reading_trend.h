// One reading of a vehicle: its stretches judged, its distance to the limit, what to note.
#pragma once

#include <optional>

#include "book/next_look.h"
#include "book/series.h"
#include "slipcase/trend.h"
#include "units/quantity.h"

namespace slipcase::book {

/// How distances are told.
struct DistanceScale {
  const units::Unit& unit;      // "km" or "miles"
  double slope_distance = 0.0;  // of that unit
};

/// Nothing where no card has a value of it. The reading has limits in the profile.
[[nodiscard]] std::optional<ReadingTrend> reading_trend(const History& history,
                                                        grounding::GroundReading reading,
                                                        const DistanceScale& scale,
                                                        const LookDistances& looks);

}  // namespace slipcase::book
