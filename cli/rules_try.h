// `slipcase rules try`.
#pragma once

#include "command_line.h"

namespace slipcase::cli {

[[nodiscard]] Exit run_command(const Request& request, const RulesTryCommand& command);

}  // namespace slipcase::cli
