// `slipcase next` and `slipcase review`.
#pragma once

#include "command_line.h"

namespace slipcase::cli {

[[nodiscard]] Exit run_command(const Request& request, const NextCommand& command);
[[nodiscard]] Exit run_command(const Request& request, const ReviewCommand& command);

}  // namespace slipcase::cli
