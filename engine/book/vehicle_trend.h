// Everything about the readings of one vehicle, put together.
#pragma once

#include "book/series.h"
#include "slipcase/trend.h"

namespace slipcase::book {

/// All but what is about the cards themselves (`vehicle`, `cards`, `left_out`, `disagreements`).
[[nodiscard]] VehicleTrend vehicle_trend(const History& history, bool miles);

}  // namespace slipcase::book
