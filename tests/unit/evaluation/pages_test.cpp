// The tables of docs/functions.md and docs/card-messages.md are run here, so that neither page can
// say what is not so.
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "evaluation/bind.h"
#include "facts/job_card.h"
#include "support/files.h"
#include "support/ground_bench.h"
#include "support/truth_of.h"

using namespace slipcase;

namespace {

std::string page(const std::string& name) {
  const auto read = read_file(std::string(SLIPCASE_TEST_DATA) + "/../../docs/" + name, 1U << 20U);
  REQUIRE(std::holds_alternative<std::string>(read));
  return std::get<std::string>(read);
}

std::string with_breaks(std::string text) {
  for (std::size_t at = text.find("\\n"); at != std::string::npos; at = text.find("\\n", at + 1)) {
    text.replace(at, 2, "\n");
  }
  return text;
}

// Cells of the rows that begin with text in back quotes; the quotes of whole cells are taken off.
std::vector<std::vector<std::string>> rows(const std::string& text) {
  std::vector<std::vector<std::string>> found;
  for (std::size_t at = text.find("\n| `"); at != std::string::npos; at = text.find("\n| `", at)) {
    at += 3;
    std::string line = text.substr(at, text.find('\n', at) - at);
    line.resize(line.rfind(" |"));
    std::vector<std::string> cells;
    for (std::size_t begin = 0; begin != std::string::npos;) {
      const std::size_t bar = line.find(" | ", begin);
      cells.push_back(line.substr(begin, bar == std::string::npos ? bar : bar - begin));
      begin = bar == std::string::npos ? bar : bar + 3;
    }
    found.push_back(std::move(cells));
  }
  return found;
}

std::string without_quotes(const std::string& cell) {
  return cell.size() >= 2 && cell.front() == '`' ? cell.substr(1, cell.size() - 2) : cell;
}

}  // namespace

TEST_CASE("every condition of the page on functions comes to what the page says") {
  std::size_t run = 0;
  for (const auto& cells : rows(page("functions.md"))) {
    const bool example =
        cells.size() == 3 && (cells[2] == "yes" || cells[2] == "no" || cells[2] == "unknown");
    if (!example) continue;
    CAPTURE(cells[0]);
    CAPTURE(cells[1]);
    CHECK(test::truth_of(without_quotes(cells[0]), with_breaks(without_quotes(cells[1]))) ==
          cells[2]);
    ++run;
  }
  CHECK(run >= 40);
}

TEST_CASE("every card of the page on card messages is answered as the page says") {
  auto bench = test::GroundBench::shipped();
  REQUIRE(bench.ground);
  std::size_t run = 0;
  for (const auto& cells : rows(page("card-messages.md"))) {
    REQUIRE(cells.size() == 3);
    CAPTURE(cells[0]);
    Diagnostics said;
    const std::string card = with_breaks(without_quotes(cells[0])) + "\nopened: 2031-04-17\n";
    const auto id = bench.sources.add("card.yaml", card);
    const auto read = facts::read_job_card(bench.sources, id, said);
    REQUIRE(read);
    (void)evaluation::bind(*bench.ground, *read, said);
    REQUIRE(said.list().size() == 1);
    const auto& first = said.list().front();
    CHECK("[" + std::string(first.name) + "]" == cells[2]);
    // The page may leave out the end of a long message.
    CHECK(first.text.substr(0, cells[1].size()) == cells[1]);
    ++run;
  }
  CHECK(run >= 20);
}
