// The commands: each loads, asks the engine and prints.
#pragma once

#include "command_line.h"

namespace slipcase::cli {

[[nodiscard]] Exit run(const Request& request);

}  // namespace slipcase::cli
