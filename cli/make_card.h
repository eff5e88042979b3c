// A new job card from the few things it begins with.
#pragma once

#include <variant>

#include "command_line.h"
#include "line_reader.h"
#include "session.h"

namespace slipcase::cli {

/// Asks for them and makes the file.
[[nodiscard]] std::variant<LoadedCard, Exit> make_card_for(const Request& request,
                                                           const std::filesystem::path& path,
                                                           const LineReader& lines);

}  // namespace slipcase::cli
