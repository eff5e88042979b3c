#include "facts/document.h"

#include <doctest/doctest.h>

#include "support/card_reading.h"

using slipcase::facts::Node;
using slipcase::facts::NodeKind;
using slipcase::test::DocumentReading;

namespace {

const Node& at(const DocumentReading& reading, std::string_view key) {
  REQUIRE(reading.root);
  const Node* node = reading.root->find(key);
  REQUIRE(node != nullptr);
  return *node;
}

}  // namespace

TEST_CASE("scalars stay the text that was written") {
  const DocumentReading reading(
      "a: yes\nb: 012\nc: .nan\nd: 1e3\ne: 2031-04-17\nf: 2-3\ng: \"~\"\nh: 14:30\ni: 0x10\n");
  CHECK(reading.messages().empty());
  CHECK(at(reading, "a").text == "yes");
  CHECK(at(reading, "b").text == "012");
  CHECK(at(reading, "c").text == ".nan");
  CHECK(at(reading, "d").text == "1e3");
  CHECK(at(reading, "e").text == "2031-04-17");
  CHECK(at(reading, "f").text == "2-3");
  CHECK(at(reading, "g").text == "~");
  CHECK(at(reading, "g").quoted);
  CHECK_FALSE(at(reading, "f").quoted);
  CHECK(at(reading, "h").text == "14:30");
  CHECK(at(reading, "i").text == "0x10");
}

TEST_CASE("every value knows where it stands") {
  const DocumentReading reading(
      "plain: one two  # and a comment\n"
      "folded: one\n  two\n"
      "single: 'it''s'\n"
      "double: \"a \\\"b\\\"\"\n"
      "list: [é, {2–3: ü}]\n"
      "block: |\n  text\n"
      "empty:\n");
  CHECK(reading.messages().empty());
  CHECK(reading.source_of(at(reading, "plain")) == "one two");
  CHECK(reading.source_of(at(reading, "folded")) == "one\n  two");
  CHECK(at(reading, "folded").text == "one two");
  CHECK(reading.source_of(at(reading, "single")) == "'it''s'");
  CHECK(at(reading, "single").text == "it's");
  CHECK(reading.source_of(at(reading, "double")) == "\"a \\\"b\\\"\"");
  const Node& list = at(reading, "list");
  CHECK(reading.source_of(list.items.at(0)) == "é");
  CHECK(reading.source_of(list.items.at(1).entries.at(0).key) == "2–3");
  CHECK(reading.source_of(list.items.at(1).entries.at(0).value) == "ü");
  CHECK(reading.source_of(at(reading, "block")) == "|");
  CHECK(at(reading, "block").text == "text\n");
  CHECK(at(reading, "empty").kind == NodeKind::null);
  CHECK(reading.source_of(at(reading, "empty")) == "empty");
}

TEST_CASE("places stay right behind a byte-order mark and with any line end") {
  for (const char* text : {"\xEF\xBB\xBF"
                           "a: 1\nb: two\n",
                           "a: 1\r\nb: two\r\n", "a: 1\rb: two\r", "---\na: 1\nb: two\n...\n",
                           "%YAML 1.2\n---\na: 1\nb: two"}) {
    const DocumentReading reading(text);
    CHECK(reading.messages().empty());
    CHECK(reading.source_of(at(reading, "b")) == "two");
    CHECK(reading.source_of(reading.root->entries.at(1).key) == "b");
  }
}

TEST_CASE("JSON gives the same tree with its own places") {
  const DocumentReading reading(
      "{ \"a\": [1, -2.5e3, true, null, \"x\\n\\u00e9\"],\n  \"b\" : { \"c\": \"2-3\" } }\n");
  CHECK(reading.messages().empty());
  const Node& list = at(reading, "a");
  REQUIRE(list.items.size() == 5);
  CHECK(list.items[0].text == "1");
  CHECK(list.items[1].text == "-2.5e3");
  CHECK(list.items[2].text == "true");
  CHECK(list.items[3].kind == NodeKind::null);
  CHECK(list.items[4].text == "x\né");
  CHECK(reading.source_of(list.items[1]) == "-2.5e3");
  CHECK(reading.source_of(list.items[4]) == "\"x\\n\\u00e9\"");
  CHECK(reading.source_of(list) == "[1, -2.5e3, true, null, \"x\\n\\u00e9\"]");
  CHECK(reading.source_of(*at(reading, "b").find("c")) == "\"2-3\"");
}

TEST_CASE("YAML in braces is read although it begins like JSON") {
  const DocumentReading reading("{job: J-1, codes: [P0733]}\n");
  CHECK(reading.messages().empty());
  CHECK(at(reading, "job").text == "J-1");
  CHECK(at(reading, "codes").items.at(0).text == "P0733");
}

TEST_CASE("numbers too large for a machine stay text in both syntaxes") {
  CHECK(at(DocumentReading("{\"a\": 123456789012345678901234567890}"), "a").text ==
        "123456789012345678901234567890");
  CHECK(at(DocumentReading("{\"a\": 1e999}"), "a").text == "1e999");
  CHECK(at(DocumentReading("a: 1e999"), "a").text == "1e999");
}

TEST_CASE("the entries of a map keep the order in which they were written") {
  const DocumentReading reading("{\"z\": 1, \"a\": 2, \"m\": 3}");
  REQUIRE(reading.root);
  CHECK(reading.root->entries.at(0).key.text == "z");
  CHECK(reading.root->entries.at(1).key.text == "a");
  CHECK(reading.root->entries.at(2).key.text == "m");
  CHECK(reading.root->find("x") == nullptr);
}
