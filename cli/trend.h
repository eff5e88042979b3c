// `slipcase trend`.
#pragma once

#include "command_line.h"

namespace slipcase::cli {

[[nodiscard]] Exit run_command(const Request& request, const TrendCommand& command);

}  // namespace slipcase::cli
