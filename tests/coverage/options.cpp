// docs/commands.md and what the program prints for --help agree, in both directions.

#include <fmt/core.h>

#include "coverage/coverage.h"
#include "golden/process.h"
#include "golden/script.h"

namespace coverage {
namespace {

namespace fs = std::filesystem;

struct Help {
  // "rules check", ...
  Words commands;
  // "--json", ...
  Words options;
};

Words words_of(const std::vector<std::string>& list) { return {list.begin(), list.end()}; }

Words options_in(const std::string& text) {
  return words_of(all_matches(text, R"((?:^|[^-\w])(--[a-z][a-z-]*))"));
}

// The first words of the indented lines below a heading that ends in "ommands:".
std::vector<std::string> subcommands_in(const std::string& help) {
  std::vector<std::string> names;
  bool listing = false;
  for (const std::string& line : golden::split_lines(help)) {
    if (!line.empty() && line.front() != ' ') {
      listing = line.ends_with("ommands:");
    } else if (listing && line.size() > 2 && line[1] == ' ' && line[2] != ' ') {
      names.push_back(golden::split_words(line).front());
    }
  }
  return names;
}

void collect(const fs::path& program, const std::vector<std::string>& command, Help& help) {
  std::vector<std::string> arguments = command;
  arguments.emplace_back("--help");
  const std::string text = golden::run_process(program, arguments, "/").out;
  help.options.merge(options_in(text));
  for (const std::string& name : subcommands_in(text)) {
    std::vector<std::string> inner = command;
    inner.push_back(name);
    std::string path;
    for (const std::string& word : inner) path += (path.empty() ? "" : " ") + word;
    // A help that repeats itself must not lead around in circles.
    if (help.commands.insert(path).second && inner.size() < 4) collect(program, inner, help);
  }
}

}  // namespace

unsigned check_options(const fs::path& root, const fs::path& program) {
  unsigned problems = 0;
  const auto complain = [&](const std::string& text) {
    fmt::print("{}\n", text);
    ++problems;
  };

  Help help;
  collect(program, {}, help);
  const std::string page = golden::read_file(root / "docs" / "commands.md");
  const Words described = options_in(page);

  for (const std::string& option : help.options) {
    if (!described.contains(option)) {
      complain(fmt::format("docs/commands.md does not mention {}", option));
    }
  }
  for (const std::string& option : described) {
    if (!help.options.contains(option)) {
      complain(fmt::format("docs/commands.md mentions {}, which no --help does", option));
    }
  }
  for (const std::string& command : help.commands) {
    if (page.find("slipcase " + command) == std::string::npos) {
      complain(fmt::format("docs/commands.md does not mention `slipcase {}`", command));
    }
  }
  if (help.commands.empty() || help.options.empty()) complain("--help lists nothing");
  fmt::print("{} commands, {} options\n", help.commands.size(), help.options.size());
  return problems;
}

}  // namespace coverage
