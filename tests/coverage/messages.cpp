// Every kind of message is named by a test that makes it appear and by a page that tells what to
// do.

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

// Names are words with hyphens; a word of prose that looks like one does no harm.
Words names_in(const std::vector<fs::path>& files) {
  Words names;
  for (const fs::path& file : files) {
    for (std::string& name :
         all_matches(golden::read_file(file), R"(\b([a-z0-9]+(?:-[a-z0-9]+)+)\b)")) {
      names.insert(std::move(name));
    }
  }
  return names;
}

Words tested_names(const fs::path& root) {
  Words names;
  for (const char* folder : {"faults", "golden", "unit", "property", "reference"}) {
    for (const std::string& name :
         names_in(files_below(root / "tests" / folder, {".test", ".cpp"}))) {
      names.insert(name);
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
  const Words tested = tested_names(root);
  const Words documented = names_in(files_below(root / "docs", {".md"}));
  const Words excepted = exceptions(root / "tests" / "coverage" / "exceptions.txt");
  for (const auto& [name, times] : declared) {
    if (times > 1) complain(fmt::format("the message name `{}` is used {} times", name, times));
    if (!tested.contains(name) && !excepted.contains(name)) {
      complain(fmt::format("no test names the message `{}`", name));
    }
    if (!documented.contains(name)) complain(fmt::format("no page names the message `{}`", name));
  }
  for (const std::string& name : excepted) {
    if (!declared.contains(name)) complain(fmt::format("exception `{}`: no such message", name));
    if (tested.contains(name)) complain(fmt::format("exception `{}` is tested after all", name));
  }
  if (declared.empty()) complain("no message was found at all");
  fmt::print("{} messages\n", declared.size());
  return problems;
}

}  // namespace coverage
