// The examples of docs/language.md are what they say they are.
#include <algorithm>

#include <doctest/doctest.h>

#include "unit/language/reading.h"

namespace slipcase::language::testing {
namespace {

/// The fenced blocks of one kind, each as one text.
std::vector<std::string> blocks(const std::string& page, std::string_view kind) {
  std::vector<std::string> found;
  std::istringstream lines(page);
  bool inside = false;
  for (std::string line; std::getline(lines, line);) {
    if (line.starts_with("```")) {
      inside = !inside && line == "```" + std::string(kind);
      if (inside) found.emplace_back();
    } else if (inside) {
      found.back() += line + "\n";
    }
  }
  return found;
}

std::string page() { return read_test_file(SLIPCASE_TEST_DATA "/../../docs/language.md"); }

TEST_CASE("the examples of the language page give no message") {
  const auto examples = blocks(page(), "rules");
  CHECK(examples.size() >= 15);
  for (const std::string& example : examples) {
    const Reading reading = read(example);
    CHECK_MESSAGE(reading.diagnostics.empty(), reading.rendered());
  }
}

/// "3 count-shape" for each line that names a message in its comment.
std::vector<std::string> announced(const std::string& example) {
  std::vector<std::string> list;
  std::istringstream lines(example);
  int number = 0;
  for (std::string line; std::getline(lines, line);) {
    ++number;
    const std::size_t comment = line.rfind("# ");
    if (comment != std::string::npos)
      list.push_back(fmt::format("{} {}", number, line.substr(comment + 2)));
  }
  return list;
}

std::vector<std::string> given(const Reading& reading) {
  std::vector<std::string> list;
  for (const Diagnostic& each : reading.diagnostics.list()) {
    const LineColumn at = reading.sources.position(each.place->source, each.place->begin);
    list.push_back(fmt::format("{} {}", at.line, each.name));
  }
  return list;
}

TEST_CASE("the wrong examples give the messages they announce and no others") {
  const auto examples = blocks(page(), "rules-wrong");
  CHECK(examples.size() >= 3);
  for (const std::string& example : examples) {
    const Reading reading = read(example);
    CHECK_MESSAGE(given(reading) == announced(example), reading.rendered());
  }
}

TEST_CASE("the page lists the words of the language") {
  const std::string text = page();
  const std::size_t begin = text.find("### Words of the language");
  const std::size_t end = text.find("### Line breaks");
  REQUIRE(begin != std::string::npos);
  std::istringstream section(text.substr(begin, end - begin));
  std::vector<std::string> words;
  for (std::string line; std::getline(section, line);) {
    if (!line.starts_with("    ")) continue;
    std::istringstream in(line);
    for (std::string word; in >> word;) words.push_back(word);
  }
  CHECK(words == reserved_words());
}

}  // namespace
}  // namespace slipcase::language::testing
