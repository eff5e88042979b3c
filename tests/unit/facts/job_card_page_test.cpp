// Everything docs/job-card.md shows is read here, so that the page cannot say what is not so.
#include <doctest/doctest.h>

#include "facts/job_card.h"
#include "support/card_reading.h"
#include "support/card_text.h"
#include "support/files.h"

using slipcase::test::CardReading;

namespace {

std::string page() {
  const std::string path = std::string(SLIPCASE_TEST_DATA) + "/../../docs/job-card.md";
  const auto read = slipcase::read_file(path, 1U << 20U);
  REQUIRE(std::holds_alternative<std::string>(read));
  return std::get<std::string>(read);
}

// What stands in the fences of one kind: ```yaml ... ```
std::vector<std::string> fences(const std::string& text, const std::string& kind) {
  std::vector<std::string> found;
  const std::string opening = "\n```" + kind + "\n";
  for (std::size_t at = text.find(opening); at != std::string::npos; at = text.find(opening, at)) {
    at += opening.size();
    const std::size_t end = text.find("```", at);
    REQUIRE(end != std::string::npos);
    found.push_back(text.substr(at, end - at));
  }
  return found;
}

struct Row {
  std::string card;
  std::string said;
  std::string name;
};

// The rows "| `card` | what is said | [name] |".
std::vector<Row> rows(const std::string& text) {
  std::vector<Row> found;
  for (std::size_t at = text.find("\n| `"); at != std::string::npos; at = text.find("\n| `", at)) {
    at += 4;
    const std::string line = text.substr(at, text.find('\n', at) - at);
    const std::size_t card_end = line.find("` | ");
    const std::size_t name_begin = line.rfind(" | [");
    if (card_end == std::string::npos || name_begin == std::string::npos) continue;
    found.push_back({line.substr(0, card_end), line.substr(card_end + 4, name_begin - card_end - 4),
                     line.substr(name_begin + 4, line.rfind("] |") - name_begin - 4)});
  }
  return found;
}

std::string with_breaks(std::string text) {
  for (const auto& [sign, character] : {std::pair{"\\n", "\n"}, std::pair{"\\t", "\t"}}) {
    for (std::size_t at = text.find(sign); at != std::string::npos; at = text.find(sign, at + 1)) {
      text.replace(at, 2, character);
    }
  }
  return text;
}

}  // namespace

TEST_CASE("every example of the page is a card without a mistake") {
  const auto examples = fences(page(), "yaml");
  CHECK(examples.size() >= 8);
  for (const std::string& example : examples) {
    CAPTURE(example);
    const CardReading reading(example);
    CHECK(reading.usable());
    CHECK(reading.messages().empty());
  }
  const auto json = fences(page(), "json");
  REQUIRE(json.size() == 1);
  CHECK(CardReading(json.front()).usable());
}

TEST_CASE("the two ways of the page to write one answer are one") {
  const CardReading reading("answers: { flare of 6-5: unknown }\n");
  const CardReading other("answers: { flare: { 6-5: unknown } }\n");
  REQUIRE(reading.usable());
  REQUIRE(other.usable());
  CHECK(slipcase::test::text_of(*reading.card) == slipcase::test::text_of(*other.card));
}

TEST_CASE("the messages of the page are those of its card") {
  const auto cards = fences(page(), "refused");
  const auto messages = fences(page(), "messages");
  REQUIRE(cards.size() == 1);
  REQUIRE(messages.size() == 1);
  const CardReading reading(cards.front());
  std::string shown;
  for (const auto& diagnostic : reading.diagnostics.list()) {
    shown += slipcase::render(diagnostic, reading.sources);
  }
  CHECK(shown == messages.front());
}

TEST_CASE("every refusal of the page is refused with exactly those words") {
  const auto table = rows(page());
  CHECK(table.size() >= 35);
  for (const Row& row : table) {
    CAPTURE(row.card);
    const CardReading reading(with_breaks(row.card));
    CHECK_FALSE(reading.usable());
    REQUIRE(reading.diagnostics.list().size() == 1);
    CHECK(reading.first_text() == row.said);
    CHECK(reading.diagnostics.list().front().name == row.name);
  }
}
