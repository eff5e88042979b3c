// The day, which only the program asks for: the engine never reads a clock.
#pragma once

#include <string>

namespace slipcase::cli {

/// "2031-04-17", where this machine is.
[[nodiscard]] std::string today();

}  // namespace slipcase::cli
