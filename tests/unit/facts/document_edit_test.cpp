// Changing a card's text. The cards are invented.
#include "facts/document_edit.h"

#include <filesystem>
#include <fstream>
#include <iterator>

#include <doctest/doctest.h>

#include "facts/job_card.h"
#include "facts/written.h"

using namespace slipcase;
using namespace slipcase::facts;

namespace {

using Keys = std::vector<std::string>;

std::string put(std::string_view text, const Keys& path, const std::string& value) {
  return with_value(text, path, CardValue::of(value), card_limits).value_or("(refused)");
}

std::string add(std::string_view text, const Keys& path, const CardValue& item) {
  return with_item(text, path, item, card_limits).value_or("(refused)");
}

CardValue event(const std::string& what, const std::string& date) {
  return CardValue::map({{"what", CardValue::of(what)}, {"date", CardValue::of(date)}});
}

std::string read_all(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

}  // namespace

TEST_CASE("An answer goes behind the others, and nothing else changes") {
  CHECK(
      put("job: a  # mine\nanswers:\n  whine: yes   # loud\n\n# below\nhistory: partial\n",
          {"answers", "buzz"}, "no") ==
      "job: a  # mine\nanswers:\n  whine: yes   # loud\n  buzz: no\n\n# below\nhistory: partial\n");
  CHECK(put("answers: { whine: yes }\n", {"answers", "buzz"}, "not sure") ==
        "answers: { whine: yes, buzz: not sure }\n");
  CHECK(put("answers: {}\n", {"answers", "buzz"}, "no") == "answers: { buzz: no }\n");
  CHECK(put("answers: { whine: yes, }\n", {"answers", "buzz"}, "no") ==
        "answers: { whine: yes, buzz: no, }\n");
  CHECK(put("job: a\n", {"answers", "flare", "2-3"}, "always") ==
        "job: a\nanswers:\n  flare: { 2-3: always }\n");
  CHECK(put("job: a", {"answers", "buzz"}, "no") == "job: a\nanswers:\n  buzz: no");
}

TEST_CASE("A member goes into its finding's answers, on whatever lines they stand") {
  CHECK(put("answers:\n  flare: { 2-3: always,\n           3-4: no }  # both\n",
            {"answers", "flare", "4-5"}, "no") ==
        "answers:\n  flare: { 2-3: always,\n           3-4: no,\n           4-5: no }  # both\n");
  CHECK(put("answers:\n  flare:\n    2-3: always\nhistory: partial\n", {"answers", "flare", "4-5"},
            "no") == "answers:\n  flare:\n    2-3: always\n    4-5: no\nhistory: partial\n");
  CHECK(put("answers:\n  flare: {\n    2-3: always,  # so\n    3-4: no\n  }\n",
            {"answers", "flare", "4-5"}, "no") ==
        "answers:\n  flare: {\n    2-3: always,  # so\n    3-4: no,\n    4-5: no\n  }\n");
}

TEST_CASE("A line that would get too long is broken") {
  const std::string before =
      "answers: { a_finding_of_some_length: no, another_finding_of_some_length: no, third_one: no "
      "}\n";
  CHECK(put(before, {"answers", "a_fourth_finding"}, "no") ==
        before.substr(0, before.size() - 3) + ",\n           a_fourth_finding: no }\n");
}

TEST_CASE("A single value is replaced, a group of them is not") {
  CHECK(put("answers: { whine: yes } # so\n", {"answers", "whine"}, "no") ==
        "answers: { whine: no } # so\n");
  CHECK(put("job: 'a # b'\n", {"job"}, "c: d") == "job: \"c: d\"\n");
  CHECK(put("answers: { flare: { 2-3: no } }\n", {"answers", "flare"}, "no") == "(refused)");
  CHECK(put("answers: no\n", {"answers", "flare"}, "no") == "(refused)");
}

TEST_CASE("An item goes to the end of its list") {
  const CardValue flat = event("battery_flat", "2031-03-02");
  CHECK(add("events:\n  - what: a\n    date: 2031-01-01\n\nhistory: partial\n", {"events"}, flat) ==
        "events:\n  - what: a\n    date: 2031-01-01\n  - what: battery_flat\n    date: 2031-03-02\n"
        "\nhistory: partial\n");
  CHECK(add("events:\n- { what: a }\njob: b\n", {"events"}, flat) ==
        "events:\n- { what: a }\n- what: battery_flat\n  date: 2031-03-02\njob: b\n");
  CHECK(add("job: a\n", {"events"}, flat) ==
        "job: a\nevents:\n  - what: battery_flat\n    date: 2031-03-02\n");
  CHECK(add("events: []\n", {"events"}, flat) ==
        "events: [{ what: battery_flat, date: 2031-03-02 }]\n");
  CHECK(add("never: [a, b]\n", {"never"}, CardValue::of("c of K1")) == "never: [a, b, c of K1]\n");
  CHECK(add("never: a\n", {"never"}, CardValue::of("b")) == "never: [a, b]\n");
  CHECK(add("events: { a: b }\n", {"events"}, flat) == "(refused)");
}

TEST_CASE("A text of several lines keeps them") {
  const std::string card = "complaint:\n  text: |\n    one\n\n    two\n  findings: [a]\njob: b\n";
  CHECK(add(card, {"complaint", "findings"}, CardValue::of("c")) ==
        "complaint:\n  text: |\n    one\n\n    two\n  findings: [a, c]\njob: b\n");
  CHECK(put("complaint:\n  text: |\n    one\n\n    two\n\njob: b\n", {"complaint", "note"}, "x") ==
        "complaint:\n  text: |\n    one\n\n    two\n  note: x\n\njob: b\n");
  CHECK(put("job: b\ncomplaint:\n  text: >-\n    one\n", {"history"}, "partial") ==
        "job: b\ncomplaint:\n  text: >-\n    one\nhistory: partial\n");
}

TEST_CASE("JSON stays JSON, and line ends stay what they are") {
  CHECK(put("{ \"job\": \"a\", \"answers\": { \"buzz\": true } }\n", {"answers", "flare", "2-3"},
            "no") ==
        "{ \"job\": \"a\", \"answers\": { \"buzz\": true, \"flare\": { \"2-3\": \"no\" } } }\n");
  CHECK(put("{\n  \"job\": \"a\",\n  \"opened\": \"2031-04-17\"\n}\n", {"history"}, "partial") ==
        "{\n  \"job\": \"a\",\n  \"opened\": \"2031-04-17\",\n  \"history\": \"partial\"\n}\n");
  CHECK(put("job: a\r\nanswers:\r\n  b: no\r\nhistory: partial\r\n", {"answers", "c"}, "yes") ==
        "job: a\r\nanswers:\r\n  b: no\r\n  c: yes\r\nhistory: partial\r\n");
}

TEST_CASE("What is no card that can be read is left alone") {
  CHECK(put("", {"job"}, "a") == "(refused)");
  CHECK(put("- a\n", {"job"}, "a") == "(refused)");
  CHECK(put("job: [\n", {"answers", "a"}, "no") == "(refused)");
  CHECK(put("job: a\njob: b\n", {"answers", "a"}, "no") == "(refused)");
}

TEST_CASE("Texts are quoted where YAML would take them for something else") {
  const auto written = [](std::string_view text) {
    return written_text(text, Quotes::where_needed);
  };
  for (const std::string_view plain :
       {"no", "210 mbar", "-15 mbar", "2-3", "2031-04-17 14:30", "lining_worn of K2", "90 °C", "R"})
    CHECK(written(plain) == plain);
  for (const std::string_view odd : {"", "null", "~", "- a", "a: b", "a #b", "a, b", "{a", "*a",
                                     "&a", "!a", "a ", "-", "\"", "'a", "a\nb", "%a", "@a", "`a"})
    CHECK(written(odd).front() == '"');
}

TEST_CASE("Every shipped card takes an answer, an event and readings, and keeps the rest") {
  for (const auto& file : std::filesystem::directory_iterator(SLIPCASE_RULES "/six_speed/jobs")) {
    CAPTURE(file.path().string());
    const std::string before = read_all(file.path());
    for (const std::string& after : {put(before, {"answers", "flare", "6-2"}, "no"),
                                     put(before, {"details", "new_one"}, "yes"),
                                     add(before, {"events"}, event("values_cleared", "2031-01-01")),
                                     add(before, {"readings"}, event("nothing", "2031-01-01")),
                                     add(before, {"never"}, CardValue::of("battery_flat"))}) {
      REQUIRE(after != "(refused)");
      // Something was put in at one place, nothing was taken out.
      std::size_t head = 0;
      while (head < before.size() && before[head] == after[head]) ++head;
      std::size_t tail = 0;
      while (tail < before.size() - head &&
             before[before.size() - 1 - tail] == after[after.size() - 1 - tail])
        ++tail;
      CHECK(head + tail == before.size());
    }
  }
}
