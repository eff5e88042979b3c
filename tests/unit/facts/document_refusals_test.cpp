// What a document refuses, and where the message points.
#include <doctest/doctest.h>

#include "facts/document.h"
#include "support/card_reading.h"

using slipcase::facts::DocumentLimits;
using slipcase::test::DocumentReading;

using Lines = std::vector<std::string>;

namespace {

Lines document_messages(const std::string& text, const DocumentLimits& limits = {}) {
  return DocumentReading(text, limits).messages();
}

std::string repeated(std::string_view part, int times) {
  std::string text;
  for (int i = 0; i < times; ++i) text += part;
  return text;
}

}  // namespace

TEST_CASE("bytes that are not UTF-8 are refused at the first of them") {
  CHECK(document_messages("job: J-1\nref: van \xFF 12\n") == Lines{"2:10 text-not-utf8"});
  CHECK(document_messages("a: caf\xE9\n") == Lines{"1:7 text-not-utf8"});
  CHECK(document_messages("{\"a\": \"\xC0\x80\"}") == Lines{"1:8 text-not-utf8"});
}

TEST_CASE("other encodings and binary files are named") {
  const DocumentReading utf16(
      std::string("\xFF\xFE"
                  "a\0:\0",
                  6));
  CHECK(utf16.messages() == Lines{"1:1 text-not-utf8"});
  CHECK(utf16.diagnostics.list().front().text == "this file is saved as UTF-16: save it as UTF-8");
  CHECK(document_messages(std::string("a\0b\0", 4)) == Lines{"1:2 text-control-character"});
  CHECK(document_messages(std::string("\x7F"
                                      "ELF\2\1\1\0",
                                      8)) == Lines{"1:1 text-control-character"});
  CHECK(document_messages("%PDF-1.7\n%\xE2\xE3\xCF\xD3\n") == Lines{"2:2 text-not-utf8"});
}

TEST_CASE("control characters are refused, as they stand and as escapes") {
  CHECK(document_messages("a: b\x1B[31m\n") == Lines{"1:5 text-control-character"});
  CHECK(document_messages("a: b\x04\nc: d\n") == Lines{"1:5 text-control-character"});
  CHECK(document_messages("a: \"x\\0\"\n") == Lines{"1:4 text-control-character"});
  CHECK(document_messages("{\"a\": \"\\u0007\"}") == Lines{"1:7 text-control-character"});
}

TEST_CASE("a text larger than the limit is refused before it is read") {
  CHECK(document_messages(std::string((4U << 20U) + 1, '#')) == Lines{"- text-too-large"});
  CHECK(document_messages("a: 1\n", {.most_bytes = 4}) == Lines{"- text-too-large"});
}

TEST_CASE("a text with nothing in it is refused") {
  for (const char* text : {"", "\n\n", "# only a comment\n", "\xEF\xBB\xBF", "~\n"}) {
    CHECK(document_messages(text) == Lines{"1:1 document-empty"});
  }
}

TEST_CASE("a key written twice is refused at the second, with the first in a note") {
  const DocumentReading reading("a: 1\nb: { c: 1, c: 2 }\na: 3\na: 4\n");
  CHECK(reading.messages() == Lines{"2:12 document-duplicate-key", "3:1 document-duplicate-key",
                                    "4:1 document-duplicate-key"});
  const auto& note = reading.diagnostics.list().at(1).notes.at(0);
  CHECK(reading.sources.describe(*note.place) == "text.yaml:1:1");
  CHECK(document_messages("{\"a\": 1, \"\\u0061\": 2}") == Lines{"1:10 document-duplicate-key"});
}

TEST_CASE("anchors and aliases are refused, so no small file can grow without end") {
  std::string bomb = "a: &a [x, x, x, x, x, x, x, x, x]\n";
  for (char c = 'b'; c <= 'i'; ++c) {
    const auto before = static_cast<char>(c - 1);
    bomb += std::string(1, c) + ": &" + c + " [" + repeated(std::string("*") + before + ", ", 9) +
            "]\n";
  }
  const DocumentReading reading(bomb);
  CHECK(reading.messages().size() == 9 + 8 * 9);
  CHECK(reading.messages().front() == "1:4 yaml-anchor");
  CHECK(document_messages("a: *gone\n") == Lines{"1:4 yaml-anchor"});
  CHECK(document_messages("a: &x\n  b: *x\n") == Lines{"1:4 yaml-anchor", "2:6 yaml-anchor"});
}

TEST_CASE("tags and merge keys are refused") {
  CHECK(document_messages("a: !!int 3\nb: !x {c: 1}\nd: ! e\n") ==
        Lines{"1:4 yaml-tag", "2:4 yaml-tag", "3:4 yaml-tag"});
  CHECK(document_messages("a: 1\n<<: {b: 2}\n") == Lines{"2:1 yaml-merge-key"});
  CHECK(document_messages("a: 1\n\"<<\": 2\n").empty());
}

TEST_CASE("one file holds one document") {
  CHECK(document_messages("a: 1\n---\nb: 2\n") == Lines{"2:1 yaml-second-document"});
  CHECK(document_messages("- a\nb: 1\n") == Lines{"2:1 yaml-second-document"});
  CHECK(document_messages("{a: 1} {b: 2}\n") == Lines{"1:8 yaml-second-document"});
}

TEST_CASE("tabs in the indentation are refused wherever YAML would misread them") {
  CHECK(document_messages("a:\n\tb: 1\n") == Lines{"2:1 yaml-tab"});
  CHECK(document_messages("a:\n\tb\n") == Lines{"2:1 yaml-tab"});
  CHECK(document_messages("a:\n  b: 1\n\tc: 2\n") == Lines{"3:1 yaml-tab"});
  CHECK(document_messages("a:\n  - x\n \t- y\n") == Lines{"3:2 yaml-tab"});
  CHECK(document_messages("a:\t1\nb: \"x\ty\"\nc: 1\t# note\n").empty());
}

TEST_CASE("a quote that is never closed is told where it began") {
  CHECK(document_messages("job: J-1\nnote: \"all the rest\nclosed: 2031-05-02\n") ==
        Lines{"2:7 yaml-quote-missing"});
  CHECK(document_messages("note: 'it''s\n") == Lines{"1:7 yaml-quote-missing"});
  CHECK(document_messages("{\"a\": \"b}\n") == Lines{"1:7 yaml-quote-missing"});
}

TEST_CASE("a bracket that is never closed is told where it opened") {
  CHECK(document_messages("a:\n  b: [1, 2\nc: 3\n") == Lines{"2:6 yaml-syntax"});
  CHECK(document_messages("a: {b: 1\n") == Lines{"1:4 yaml-syntax"});
}

TEST_CASE("other mistakes of YAML are told where they are") {
  CHECK(document_messages("text: slips: badly\n") == Lines{"1:12 yaml-syntax"});
  CHECK(document_messages("text: @home\n") == Lines{"1:7 yaml-syntax"});
  CHECK(document_messages("a: 1\n b: 2\n") == Lines{"2:3 yaml-syntax"});
  CHECK(document_messages("a: - b\n") == Lines{"1:4 yaml-syntax"});
  CHECK(document_messages("a: \"\\q\"\n") == Lines{"1:7 yaml-syntax"});
  CHECK(document_messages("{job: [J-1}\n") == Lines{"1:11 yaml-syntax"});
}

TEST_CASE("mistakes of JSON are told where they are") {
  CHECK(document_messages("{\"a\": 1 \"b\": 2}") == Lines{"1:9 json-syntax"});
  CHECK(document_messages("{\"a\": [1, 2") == Lines{"1:12 json-syntax"});
  CHECK(document_messages("{\"a\": \"\\x\"}") == Lines{"1:7 json-syntax"});
}

TEST_CASE("a comment in JSON is told as one") {
  for (const char* text : {"{\n  // here\n  \"a\": 1}", "{\"a\": 1,\n  /* \"b\" */ \"c\": 2}"}) {
    const DocumentReading reading(text);
    CHECK(reading.messages() == Lines{"2:3 json-comment"});
    CHECK(reading.diagnostics.list().front().text.starts_with("JSON has no comments"));
  }
}

TEST_CASE("keys are texts") {
  CHECK(document_messages("? [a]\n: b\n") == Lines{"1:3 document-key-not-text"});
  CHECK(document_messages(": x\n") == Lines{"1:1 document-key-not-text"});
  CHECK(document_messages("{a: 1}: b\n") == Lines{"1:1 document-key-not-text"});
}

TEST_CASE("nesting and the number of values have limits") {
  CHECK(document_messages(repeated("[", 50) + repeated("]", 50)).empty());
  CHECK(document_messages(repeated("[", 51) + repeated("]", 51)) ==
        Lines{"1:51 document-too-deep"});
  CHECK(document_messages(repeated("[", 100'000)) == Lines{"1:51 document-too-deep"});
  CHECK(document_messages("a: " + repeated("[", 51) + repeated("]", 51)) ==
        Lines{"1:53 document-too-deep"});
  CHECK(document_messages("a: " + repeated("{b: ", 60)) == Lines{"1:200 document-too-deep"});
  CHECK(document_messages("[1, 2, 3]", {.most_nodes = 3}) == Lines{"1:8 document-too-many-values"});
  CHECK(document_messages("- 1\n- 2\n- 3\n", {.most_nodes = 3}) ==
        Lines{"3:3 document-too-many-values"});
  CHECK(document_messages("[" + repeated("1,", 300'000) + "1]") ==
        Lines{"1:400000 document-too-many-values"});
}

TEST_CASE("everything that does not stop the reading is told in one run") {
  CHECK(document_messages("a: 1\na: 2\nb: *x\n").size() ==
        1);  // an unknown alias stops the library
  CHECK(document_messages("a: &y 1\na: 2\nb: *y\nc: !!str 3\n<<: 4\n") ==
        Lines{"1:4 yaml-anchor", "3:4 yaml-anchor", "4:4 yaml-tag", "5:1 yaml-merge-key",
              "2:1 document-duplicate-key"});
}
