#include "shipped_rules.h"

#include <algorithm>
#include <system_error>

namespace slipcase::cli {

namespace fs = std::filesystem;

namespace {

/// Shorter in messages where the folder lies below the current one.
fs::path relative_if_below(const fs::path& path) {
  std::error_code code;
  const fs::path relative = fs::relative(path, code);
  const bool below = !code && !relative.empty() && *relative.begin() != "..";
  return below ? relative : path;
}

}  // namespace

std::optional<fs::path> shipped_rules_folder() {
  std::error_code code;
  const fs::path program = fs::read_symlink("/proc/self/exe", code);
  if (!code) {
    const fs::path installed = program.parent_path().parent_path() / SLIPCASE_INSTALLED_RULES;
    if (fs::is_directory(installed, code)) return relative_if_below(installed);
  }
  const fs::path in_source_tree = SLIPCASE_SOURCE_RULES;
  if (fs::is_directory(in_source_tree, code)) return relative_if_below(in_source_tree);
  return std::nullopt;
}

std::vector<std::string> shipped_units(const fs::path& folder) {
  std::vector<std::string> units;
  std::error_code code;
  for (fs::directory_iterator walk(folder, code), end; !code && walk != end; walk.increment(code)) {
    if (fs::exists(walk->path() / "profile.yaml", code))
      units.push_back(walk->path().filename().string());
  }
  std::sort(units.begin(), units.end());
  return units;
}

}  // namespace slipcase::cli
