// Numbers and words of trends, alike on screen and in JSON.
#pragma once

#include <string>
#include <string_view>

#include "slipcase/trend.h"

namespace slipcase::report {

[[nodiscard]] std::string_view name_of(TrendShape shape);  // "too_few"
[[nodiscard]] std::string_view name_of(Look look);         // "quiet"
[[nodiscard]] std::string_view name_of(ChangePattern pattern);
[[nodiscard]] std::string_view name_of(ReadingRange range);

/// Three digits at most behind the sign, whole from 100 on: "12.3", "-0.45", "210".
[[nodiscard]] std::string short_number(double number);

/// Two digits, the rest noughts, so that nobody takes it for more exact than it is; rounded down
/// or up.
[[nodiscard]] std::string rounded_down(double distance);
/// The same with three digits.
[[nodiscard]] double three_digits_down(double distance);
[[nodiscard]] std::string rounded_up(double distance);

/// "fill pressure"
[[nodiscard]] std::string with_blanks(std::string name);

}  // namespace slipcase::report
