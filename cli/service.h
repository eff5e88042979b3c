// `slipcase ratio`, `slipcase level`, `slipcase code`: the calculators on a unit's profile.
#pragma once

#include "command_line.h"

namespace slipcase::cli {

[[nodiscard]] Exit run_command(const Request& request, const RatioCommand& command);
[[nodiscard]] Exit run_command(const Request& request, const LevelCommand& command);
[[nodiscard]] Exit run_command(const Request& request, const CodeCommand& command);

}  // namespace slipcase::cli
