// Writing on a card's file: what other writers put there stays. Cards and rules are invented.
#include "slipcase/write_card.h"

#include <unistd.h>

#include <doctest/doctest.h>

#include "slipcase/ask.h"
#include "slipcase/slipcase.h"
#include "support/card_folder.h"

using namespace slipcase;
using slipcase::testing::CardFolder;
using slipcase::testing::text_of;

namespace fs = std::filesystem;

namespace {

struct Rules {
  std::shared_ptr<SourceSet> sources = std::make_shared<SourceSet>();
  Diagnostics diagnostics;
  std::optional<Knowledge> knowledge;

  Rules() {
    RulePaths paths;
    paths.shipped = fs::path(SLIPCASE_RULES) / "six_speed";
    knowledge = load_knowledge(paths, sources, diagnostics).knowledge;
    REQUIRE(knowledge.has_value());
  }
};

CardText read(const fs::path& path) {
  Diagnostics diagnostics;
  auto load = read_card(path, diagnostics);
  REQUIRE(load.card.has_value());
  return *load.card;
}

CardChange answer(const std::string& finding, const std::string& value) {
  return {CardChange::Kind::put, {"answers", finding}, CardValue::of(value)};
}

constexpr const char* card = "job: a\nunit: six_speed\nopened: 2031-04-17\nanswers: { buzz: no }\n";

std::string first_message(const Diagnostics& diagnostics) {
  return diagnostics.empty() ? "" : std::string(diagnostics.list().front().name);
}

}  // namespace

TEST_CASE("A change is written, and the card that comes back is the one on the disk") {
  Rules rules;
  const CardFolder folder;
  const fs::path path = folder.write("card.yaml", card);
  const CardChange change = answer("pump_whine", "yes");
  Diagnostics diagnostics;
  const CardWrite written =
      write_card(path, read(path), {&change, 1}, *rules.knowledge, diagnostics);
  CHECK(written.outcome == CardWritten::done);
  CHECK(written.card->text == text_of(path));
  CHECK(written.card->text.find("{ buzz: no, pump_whine: yes }") != std::string::npos);
}

TEST_CASE("What somebody else wrote in between is not overwritten") {
  Rules rules;
  const CardFolder folder;
  const fs::path path = folder.write("card.yaml", card);
  const CardText mine = read(path);
  folder.write("card.yaml", std::string(card) + "history: partial\n");
  const CardChange change = answer("pump_whine", "yes");
  Diagnostics diagnostics;
  CHECK(write_card(path, mine, {&change, 1}, *rules.knowledge, diagnostics).outcome ==
        CardWritten::changed);
  CHECK(text_of(path) == std::string(card) + "history: partial\n");
}

TEST_CASE("A change that would make a card wrong, or has no place, is not written") {
  Rules rules;
  const CardFolder folder;
  const fs::path path = folder.write("card.yaml", card);
  for (const auto& [change, message] :
       {std::pair(answer("pump_whine", "perhaps"), "card-answer-shape"),
        std::pair(answer("pump_wine", "yes"), "card-unknown-name"),
        std::pair(CardChange{CardChange::Kind::put, {"job", "a"}, CardValue::of("b")},
                  "card-not-changed")}) {
    Diagnostics diagnostics;
    CHECK(write_card(path, read(path), {&change, 1}, *rules.knowledge, diagnostics).outcome ==
          CardWritten::refused);
    CHECK(first_message(diagnostics) == message);
  }
  CHECK(text_of(path) == card);
}

TEST_CASE("A folder that may not be written is told, and the card stays") {
  Rules rules;
  const CardFolder folder;
  const fs::path path = folder.write("card.yaml", card);
  const CardText mine = read(path);
  fs::permissions(path, fs::perms::owner_read);
  const CardChange change = answer("pump_whine", "yes");
  Diagnostics diagnostics;
  // Who is root may write everywhere.
  const CardWritten wanted = getuid() == 0 ? CardWritten::done : CardWritten::failed;
  const CardWrite written = write_card(path, mine, {&change, 1}, *rules.knowledge, diagnostics);
  CHECK(written.outcome == wanted);
  if (wanted == CardWritten::failed) CHECK(first_message(diagnostics) == "card-not-written");
}

TEST_CASE("The line to put on a card by hand") {
  const CardChange event{CardChange::Kind::add,
                         {"events"},
                         CardValue::map({{"what", CardValue::of("battery_flat")},
                                         {"date", CardValue::of("2031-03-02")}})};
  CHECK(as_line(event) == "events: [{ what: battery_flat, date: 2031-03-02 }]");
  const CardChange put{CardChange::Kind::put, {"answers", "flare", "2-3"}, CardValue::of("no")};
  CHECK(as_line(put) == "answers: { flare: { 2-3: no } }");
}
