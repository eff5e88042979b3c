// `slipcase book add-reading`: readings onto a card, from a table or typed in.
#pragma once

#include "command_line.h"

namespace slipcase::cli {

[[nodiscard]] Exit run_command(const Request& request, const AddReadingCommand& command);

}  // namespace slipcase::cli
