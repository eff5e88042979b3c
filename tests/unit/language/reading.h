// Reading rule text in tests.
#pragma once

#include <fstream>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/core.h>

#include "language/parse.h"
#include "language/print.h"

namespace slipcase::language::testing {

struct Reading {
  SourceSet sources;
  Diagnostics diagnostics;
  File file;

  /// "3:7 quote-missing" for each message.
  [[nodiscard]] std::vector<std::string> messages() const {
    std::vector<std::string> list;
    for (const Diagnostic& each : diagnostics.list()) {
      const LineColumn at = sources.position(each.place->source, each.place->begin);
      list.push_back(fmt::format("{}:{} {}", at.line, at.column, each.name));
    }
    return list;
  }

  /// The only message, or all of them in one line.
  [[nodiscard]] std::string message() const {
    std::string all;
    for (const std::string& each : messages()) all += (all.empty() ? "" : ", ") + each;
    return all;
  }

  [[nodiscard]] std::string rendered() const {
    std::string all;
    for (const Diagnostic& each : diagnostics.list()) all += render(each, sources);
    return all;
  }
};

[[nodiscard]] inline Reading read(std::string text) {
  Reading reading;
  const SourceId id = reading.sources.add("test.rules", std::move(text));
  reading.file = parse(reading.sources, id, reading.diagnostics);
  return reading;
}

/// The lines as those of one cause.
[[nodiscard]] inline Reading read_lines(std::string_view lines) {
  return read(fmt::format("cause x\n{}\n", lines));
}

/// The body of the only line.
template <class T>
[[nodiscard]] T read_line(std::string_view line) {
  const Reading reading = read_lines(line);
  if (!reading.diagnostics.empty()) throw std::runtime_error(reading.rendered());
  return std::get<T>(reading.file.declarations.at(0).clauses.at(0).body);
}

[[nodiscard]] inline Condition read_condition_text(std::string_view text) {
  return read_line<When>(fmt::format("when {}", text)).condition;
}

[[nodiscard]] inline std::string read_test_file(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  if (!in) throw std::runtime_error("cannot open " + path);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

}  // namespace slipcase::language::testing
