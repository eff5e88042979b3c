// Trouble codes as people and scan tools write them.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "units/trouble_code.h"

namespace slipcase::service {

/// "P0733", "0x0733", "0733", or "07", "33" one after the other; `words[at]` and as many more as
/// belong to it. On success `at` is behind them.
[[nodiscard]] std::optional<units::TroubleCode> read_code(const std::vector<std::string>& words,
                                                          std::size_t& at);

/// "07 33"
[[nodiscard]] std::string in_bytes(units::TroubleCode code);
/// What the letter stands for: "engine and transmission".
[[nodiscard]] std::string_view system_of(units::TroubleCode code);
/// The group of the standard's engine and transmission codes; empty for others.
[[nodiscard]] std::string_view group_of(units::TroubleCode code);

}  // namespace slipcase::service
