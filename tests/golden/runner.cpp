// Runs .test files and the console blocks of Markdown pages and compares what is printed.
//
//   golden_runner [--update] --program SLIPCASE --rules FOLDER FILE...
//
// --update writes what was printed into the files instead; read the difference before committing
// it.

#include <exception>
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/core.h>

#include "golden/process.h"
#include "golden/run.h"
#include "golden/script.h"

namespace {

struct Options {
  bool update = false;
  golden::Settings settings;
  std::vector<std::filesystem::path> files;
};

Options read_options(const std::vector<std::string>& arguments) {
  Options options;
  for (std::size_t i = 0; i < arguments.size(); ++i) {
    const bool has_value = i + 1 < arguments.size();
    if (arguments[i] == "--update") {
      options.update = true;
    } else if (arguments[i] == "--program" && has_value) {
      options.settings.program = std::filesystem::absolute(arguments[++i]);
    } else if (arguments[i] == "--rules" && has_value) {
      options.settings.rules = std::filesystem::absolute(arguments[++i]).lexically_normal();
    } else {
      options.files.emplace_back(arguments[i]);
    }
  }
  return options;
}

// A case is called err_... exactly when one of its commands fails, so that a list of files shows
// which cases are about mistakes.
std::string name_problem(const std::filesystem::path& file, bool any_failed) {
  const bool says_error = file.filename().string().starts_with("err_");
  if (says_error == any_failed) return {};
  return any_failed ? "a command fails, so the name of the file must begin with err_\n"
                    : "no command fails, so the name of the file must not begin with err_\n";
}

// Whether the file is as it should be.
bool check(const std::filesystem::path& file, const Options& options) {
  const std::string text = golden::read_file(file);
  const bool markdown = file.extension() == ".md";
  const golden::Script script = markdown ? golden::parse_markdown(text) : golden::parse_test(text);
  const golden::Run run = golden::run(script, options.settings);

  std::string problems;
  if (options.update) {
    const std::string actual = golden::write(run.actual);
    if (actual != text) golden::write_file(file, actual);
  } else {
    problems = run.differences;
  }
  if (!markdown) problems += name_problem(file, run.any_failed);
  if (!markdown && run.commands == 0) problems += "no line begins with `$ `: nothing was run\n";
  if (!problems.empty()) fmt::print("{}:\n{}", file.string(), problems);
  return problems.empty();
}

}  // namespace

int main(int count, char** values) {
  try {
    const Options options = read_options({values + 1, values + count});
    if (options.settings.program.empty() || options.settings.rules.empty() ||
        options.files.empty()) {
      fmt::print(stderr, "usage: {} [--update] --program SLIPCASE --rules FOLDER FILE...\n",
                 values[0]);
      return 2;
    }
    bool all_good = true;
    for (const std::filesystem::path& file : options.files) all_good &= check(file, options);
    return all_good ? 0 : 1;
  } catch (const std::exception& problem) {
    fmt::print(stderr, "{}: {}\n", values[0], problem.what());
    return 2;
  }
}
