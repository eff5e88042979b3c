// docs/profile.md: its examples are read, its table of refusals is what the program says.
#include <fstream>
#include <sstream>

#include "profile_text.h"

using namespace slipcase;
using namespace slipcase::test;

namespace {

using Texts = std::vector<std::string>;

Texts page() {
  std::ifstream file(SLIPCASE_RULES "/../docs/profile.md");
  Texts lines;
  for (std::string line; std::getline(file, line);) lines.push_back(line);
  REQUIRE(!lines.empty());
  return lines;
}

/// The blocks between ```yaml and ```.
Texts examples() {
  Texts blocks;
  bool inside = false;
  for (const std::string& line : page()) {
    if (line == "```yaml") blocks.emplace_back();
    if (inside && line != "```") blocks.back() += line + "\n";
    inside = line == "```yaml" || (inside && line != "```");
  }
  return blocks;
}

bool starts_section(const std::string& line) {
  return !line.empty() && line.front() != ' ' && line.front() != '#';
}

/// The profile with the sections of `part` in place of its own.
std::string with_sections(const std::string& whole, const std::string& part) {
  std::string kept;
  bool replaced = false;
  std::istringstream lines(whole);
  for (std::string line; std::getline(lines, line);) {
    if (starts_section(line)) {
      const std::string key = line.substr(0, line.find(':') + 1);
      replaced = ("\n" + part).find("\n" + key) != std::string::npos;
    }
    if (!replaced) kept += line + "\n";
  }
  return kept + part;
}

struct Refusal {
  std::string instead_of, written, said, name;
};

std::string without_quotes(std::string text) {
  std::erase(text, '`');
  for (std::size_t at; (at = text.find("\\n")) != std::string::npos;) text.replace(at, 2, "\n");
  return text;
}

std::string trimmed(const std::string& text) {
  const std::size_t begin = text.find_first_not_of(' ');
  return begin == std::string::npos ? ""
                                    : text.substr(begin, text.find_last_not_of(' ') - begin + 1);
}

std::vector<Refusal> refusals() {
  std::vector<Refusal> rows;
  for (const std::string& line : page()) {
    if (!line.starts_with("| ") || !line.ends_with("] |") ||
        line.find(" | [") == std::string::npos) {
      continue;
    }
    Texts cells;
    std::istringstream row(line.substr(1));
    for (std::string cell; std::getline(row, cell, '|');) cells.push_back(trimmed(cell));
    REQUIRE(cells.size() == 4);
    rows.push_back({without_quotes(cells[0]), without_quotes(cells[1]), cells[2],
                    cells[3].substr(1, cells[3].size() - 2)});
  }
  return rows;
}

}  // namespace

TEST_CASE("every example of the page is read without a message") {
  const Texts all = examples();
  REQUIRE(all.size() == 6);
  CHECK(ProfileReading(all[0]).messages() == Lines{});
  for (std::size_t i = 1; i < all.size(); ++i) {
    const std::string whole = with_sections(all[0], all[i]);
    CAPTURE(whole);
    CHECK(ProfileReading(whole).messages() == Lines{});
  }
}

TEST_CASE("every refusal of the page is what is said") {
  const std::string whole = examples().at(0);
  const std::vector<Refusal> rows = refusals();
  CHECK(rows.size() == 42);
  for (const Refusal& row : rows) {
    CAPTURE(row.instead_of);
    const std::size_t at = whole.find(row.instead_of);
    REQUIRE(at != std::string::npos);
    const ProfileReading reading(
        std::string(whole).replace(at, row.instead_of.size(), row.written));
    REQUIRE(!reading.diagnostics.empty());
    CHECK(std::string(reading.diagnostics.list().front().name) == row.name);
    CHECK(reading.first_text() == row.said);
  }
}
