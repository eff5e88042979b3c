// `slipcase drive sheet` and `slipcase drive check`: the learning drive.
#pragma once

#include "command_line.h"

namespace slipcase::cli {

[[nodiscard]] Exit run_command(const Request& request, const DriveSheetCommand& command);
[[nodiscard]] Exit run_command(const Request& request, const DriveCheckCommand& command);

}  // namespace slipcase::cli
