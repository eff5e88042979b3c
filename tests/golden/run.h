// Runs the commands of a script and compares.
//
// Below `$ command` stand, in this order: `! n` with the exit code if it is not 0, the lines of
// standard output as they are, and the lines of standard error behind `2> `. A line of standard
// output that looks like a marker is written behind `1> `. Blank lines at the end do not count.
//
// In command lines, files and output `{rules}` stands for the folder with the shipped rules and
// `{dir}` for the folder where the commands run.
#pragma once

#include <filesystem>
#include <string>

#include "golden/script.h"

namespace golden {

struct Settings {
  std::filesystem::path program;
  std::filesystem::path rules;
};

struct Run {
  // The script with what was really printed.
  Script actual;
  // What differs, as text for people; empty when all is as expected.
  std::string differences;
  unsigned commands = 0;
  bool any_failed = false;
};

[[nodiscard]] Run run(const Script& script, const Settings& settings);

}  // namespace golden
