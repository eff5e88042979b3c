// Where the rules that come with the program are.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace slipcase::cli {

/// The folder that holds one folder per unit: beside an installed program, else the source tree's.
[[nodiscard]] std::optional<std::filesystem::path> shipped_rules_folder();

/// Units that have a folder with a profile there.
[[nodiscard]] std::vector<std::string> shipped_units(const std::filesystem::path& folder);

}  // namespace slipcase::cli
