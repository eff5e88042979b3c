//   coverage messages ROOT
//   coverage options ROOT PROGRAM

#include <algorithm>
#include <exception>
#include <regex>

#include <fmt/core.h>

#include "coverage/coverage.h"

namespace coverage {

std::vector<std::filesystem::path> files_below(const std::filesystem::path& folder,
                                               const std::vector<std::string>& extensions) {
  std::vector<std::filesystem::path> files;
  if (!std::filesystem::exists(folder)) return files;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(folder)) {
    const std::string extension = entry.path().extension().string();
    if (std::find(extensions.begin(), extensions.end(), extension) != extensions.end()) {
      files.push_back(entry.path());
    }
  }
  std::sort(files.begin(), files.end());
  return files;
}

std::vector<std::string> all_matches(const std::string& text, const std::string& pattern) {
  const std::regex regex(pattern);
  std::vector<std::string> found;
  for (std::sregex_iterator match(text.begin(), text.end(), regex), end; match != end; ++match) {
    found.push_back((*match)[1]);
  }
  return found;
}

}  // namespace coverage

int main(int count, char** values) {
  try {
    const std::vector<std::string> arguments(values + 1, values + count);
    if (arguments.size() == 2 && arguments[0] == "messages") {
      return coverage::check_messages(arguments[1]) == 0 ? 0 : 1;
    }
    if (arguments.size() == 3 && arguments[0] == "options") {
      return coverage::check_options(arguments[1], arguments[2]) == 0 ? 0 : 1;
    }
    fmt::print(stderr, "usage: {0} messages ROOT, or {0} options ROOT PROGRAM\n", values[0]);
  } catch (const std::exception& problem) {
    fmt::print(stderr, "{}: {}\n", values[0], problem.what());
  }
  return 2;
}
