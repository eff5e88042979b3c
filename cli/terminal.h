// What the terminal can show, and writing to it.
#pragma once

#include <string_view>

#include "command_line.h"
#include "slipcase/report.h"

namespace slipcase::cli {

/// Colour only on a terminal and never when NO_COLOR is set (https://no-color.org); the width of
/// the terminal, COLUMNS if set, else 80.
[[nodiscard]] TextStyle style_of_standard_output();

/// Results go to standard output; a full disk or closed pipe is a failure of the machine. `json`:
/// how that is said.
[[nodiscard]] Exit print_result(std::string_view text, bool json);

/// One message of the program itself, which no place in a text goes with. `text` as it stands on
/// the screen behind "slipcase: ".
void print_error(const Message& message, std::string_view text, bool json);

/// Messages go to standard error.
void print_messages(const Diagnostics& diagnostics, const SourceSet& sources, bool json);

}  // namespace slipcase::cli
