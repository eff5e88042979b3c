#pragma once

#include <filesystem>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace coverage {

using Words = std::set<std::string, std::less<>>;

/// All files below `folder` with one of these extensions, sorted; none if there is no such folder.
[[nodiscard]] std::vector<std::filesystem::path> files_below(
    const std::filesystem::path& folder, const std::vector<std::string>& extensions);

/// What the first group of `pattern` matches, everywhere in `text`.
[[nodiscard]] std::vector<std::string> all_matches(const std::string& text,
                                                   const std::string& pattern);

/// The checks; each prints what is wrong and gives the number of problems.
[[nodiscard]] unsigned check_messages(const std::filesystem::path& root);
[[nodiscard]] unsigned check_options(const std::filesystem::path& root,
                                     const std::filesystem::path& program);

}  // namespace coverage
