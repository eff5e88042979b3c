// The questionnaire at the terminal.
#pragma once

#include "command_line.h"

namespace slipcase::cli {

[[nodiscard]] Exit run_command(const Request& request, const AskCommand& command);

}  // namespace slipcase::cli
