// The words for what happened on a learning drive, on screen and as JSON.
#pragma once

#include <string>
#include <string_view>

#include "slipcase/drive.h"

namespace slipcase::report {

[[nodiscard]] std::string_view proof_word(Proof proof);
[[nodiscard]] std::string_view heading_word(Heading heading);
[[nodiscard]] std::string_view not_counted_word(NotCounted why);
[[nodiscard]] std::string_view sign_word(DriveSign sign);

/// "too cold", "pedal moved"
[[nodiscard]] std::string_view not_counted_says(NotCounted why);
/// A whole sentence about the drive.
[[nodiscard]] std::string sign_says(DriveSign sign, const DriveCheck& check);
[[nodiscard]] std::string heading_says(const MovingValue& value);

/// "85 s", "12 minutes", "1 h 20 min"
[[nodiscard]] std::string time_says(double seconds);
/// "65 to 110 °C"
[[nodiscard]] std::string range_says(const DriveRange& range, std::string_view unit);

}  // namespace slipcase::report
