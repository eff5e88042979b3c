// A date as scan tools and spreadsheets write it.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "units/date.h"

namespace slipcase::book {

/// `2031-04-17`, `2031/4/7 14:30:05`, and with `day_first` `17.04.2031`: three numbers with one
/// sign of `-`, `.` and `/` between them, the year in four digits; hour and minute behind a blank
/// or a T. Seconds are left out. Nothing for anything else, and for days that do not exist.
[[nodiscard]] std::optional<units::Moment> cell_moment(std::string_view cell, bool day_first);

}  // namespace slipcase::book
