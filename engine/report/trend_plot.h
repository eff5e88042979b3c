// One reading over the odometer, drawn with letters.
#pragma once

#include <string>

#include "slipcase/trend.h"

namespace slipcase::report {

/// Odometer to the right, value upwards; `*` a value (a digit: several in one place), `x` one that
/// is set aside, `.` the line through a stretch, `=` the limit, `-` the watch line, `|` where a
/// stretch begins, `:` other work. Empty where no value has an odometer. At most `width` columns.
[[nodiscard]] std::string trend_plot(const VehicleTrend& trend, const ReadingTrend& reading,
                                     std::size_t width);

}  // namespace slipcase::report
