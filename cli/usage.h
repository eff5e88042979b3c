// What to say to a command line that cannot be read.
#pragma once

#include <string>
#include <vector>

#include <CLI/CLI.hpp>

namespace slipcase::cli {

/// `words`: the command line behind the name of the program.
[[nodiscard]] std::string explain_usage(const CLI::App& app, const CLI::ParseError& error,
                                        const std::vector<std::string>& words);

}  // namespace slipcase::cli
