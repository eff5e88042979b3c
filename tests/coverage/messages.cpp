// Every kind of message is shown by some golden case or page, so that its text has been seen.

#include <map>

#include <fmt/core.h>

#include "coverage/coverage.h"
#include "golden/process.h"
#include "golden/script.h"

namespace coverage {
namespace {

namespace fs = std::filesystem;

// `Message unit_shape{"unit-shape", ...}`, wherever the line breaks.
constexpr const char* declaration = R"(\bMessage\s+\w+\s*\{\s*"([a-z0-9-]+)\")";

std::map<std::string, unsigned> declared_messages(const fs::path& root) {
  std::map<std::string, unsigned> names;
  for (const char* folder : {"engine", "include", "cli"}) {
    for (const fs::path& file : files_below(root / folder, {".h", ".cpp"})) {
      for (const std::string& name : all_matches(golden::read_file(file), declaration)) {
        ++names[name];
      }
    }
  }
  return names;
}

Words shown_names(const fs::path& root) {
  std::vector<fs::path> files = files_below(root / "tests" / "golden", {".test"});
  for (const fs::path& page : files_below(root / "docs", {".md"})) files.push_back(page);
  Words names;
  for (const fs::path& file : files) {
    for (std::string& name : all_matches(golden::read_file(file), R"(\[([a-z0-9-]+)\])")) {
      names.insert(std::move(name));
    }
  }
  return names;
}

// `name: reason` on each line; `#` starts a comment.
Words exceptions(const fs::path& file) {
  Words names;
  for (const std::string& line : golden::split_lines(golden::read_file(file))) {
    const std::size_t colon = line.find(": ");
    if (line.starts_with('#') || colon == std::string::npos) continue;
    names.insert(line.substr(0, colon));
  }
  return names;
}

}  // namespace

unsigned check_messages(const fs::path& root) {
  unsigned problems = 0;
  const auto complain = [&](const std::string& text) {
    fmt::print("{}\n", text);
    ++problems;
  };

  const auto declared = declared_messages(root);
  const Words shown = shown_names(root);
  const Words excepted = exceptions(root / "tests" / "coverage" / "exceptions.txt");
  for (const auto& [name, times] : declared) {
    if (times > 1) complain(fmt::format("the message name `{}` is used {} times", name, times));
    if (!shown.contains(name) && !excepted.contains(name)) {
      complain(fmt::format("no golden case and no page shows [{}]", name));
    }
  }
  for (const std::string& name : excepted) {
    if (!declared.contains(name)) complain(fmt::format("exception `{}`: no such message", name));
    if (shown.contains(name)) complain(fmt::format("exception `{}` is shown after all", name));
  }
  if (declared.empty()) complain("no message was found at all");
  fmt::print("{} messages\n", declared.size());
  return problems;
}

}  // namespace coverage
