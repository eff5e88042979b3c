// Characters and words: what is accepted as it stands, and what is reported.
#include "language/tokens.h"

#include <doctest/doctest.h>

#include "support/listed.h"
#include "unit/language/reading.h"

namespace slipcase::language::testing {
namespace {

using namespace std::string_literals;

std::vector<std::string> spellings(std::string_view text) {
  Reporter reporter;
  std::vector<std::string> list;
  const Tokens tokens = read_tokens(text, SourceId{}, reporter);
  for (const Token& token : tokens.list) {
    if (token.kind != TokenKind::end) list.emplace_back(token.spelling);
  }
  return list;
}

using Spellings = std::vector<std::string>;

TEST_CASE("a word is the longest run of letters, digits, underscores and inner signs") {
  CHECK(
      spellings("2-3 K3 lining_worn 8.5 km/h 2031-04-22 (a,b)") ==
      Spellings{"2-3", "K3", "lining_worn", "8.5", "km/h", "2031-04-22", "(", "a", ",", "b", ")"});
}

TEST_CASE("what phones and word processors write is taken as it is meant") {
  CHECK(spellings("2–3 2‑3 2−3 2-3") == Spellings{"2-3", "2-3", "2-3", "2-3"});
  CHECK(spellings("a ≥ 5 ≤ 6") == Spellings{"a", ">=", "5", "<=", "6"});
  CHECK(spellings("“one” „two“ \"three\"") == Spellings{"one", "two", "three"});
  CHECK(spellings("90\u00A0°C") == Spellings{"90", "°C"});
  CHECK(spellings("−15 mbar") == Spellings{"-15", "mbar"});
}

TEST_CASE("a byte-order mark and every kind of line end are accepted") {
  for (const char* const end : {"\n", "\r\n", "\r"}) {
    const Reading reading = read(
        fmt::format("\xEF\xBB\xBFlanguage 1{0}cause x{0}    says \"y\"{0}    shwos z{0}", end));
    CHECK(reading.message() == "4:5 unknown-word");
    CHECK(reading.file.declarations.size() == 1);
  }
}

TEST_CASE("a curly quote closes a text that a straight one began, and the other way round") {
  CHECK(spellings("\"text”") == Spellings{"text"});
  CHECK(spellings("“text\"") == Spellings{"text"});
}

TEST_CASE("quotes of the other kind can stand inside a text") {
  CHECK(spellings("\"the “real” one\"") == Spellings{"the “real” one"});
  CHECK(spellings("“the \"real\" one”") == Spellings{"the \"real\" one"});
}

TEST_CASE("a comment ends with its line and a text may hold its sign") {
  CHECK(spellings("a # b \" c\nd \"#1\"") == Spellings{"a", "d", "#1"});
}

TEST_CASE("places point into the text as it was written") {
  const Reading reading = read("cause x\n    says “ä”   shows 2–3\n");
  REQUIRE(reading.diagnostics.list().size() == 1);
  CHECK(reading.message() == "2:22 expected-other");
  CHECK(reading.sources.text_at(*reading.diagnostics.list()[0].place) == "2–3");
}

TEST_CASE("bytes that are not UTF-8 are reported once a line and reading goes on") {
  const Reading reading = read("cause x\n    says \"a\xFF\xFE\x62\"\n    group hard\xC3_part\n");
  CHECK(reading.message() == "2:12 not-utf8, 3:15 not-utf8");
  CHECK(reading.file.declarations.at(0).clauses.size() == 2);
}

TEST_CASE("control characters are reported and left out") {
  const Reading reading = read("cause x\n  group a\0b\n  says \"c\x07\"\n"s);
  CHECK(reading.message() == "2:10 control-character, 3:10 control-character");
  CHECK(std::get<Group>(reading.file.declarations.at(0).clauses.at(0).body).name.text == "ab");
}

TEST_CASE("characters that cannot be seen are reported") {
  CHECK(read_lines("group a\u200Bb").message() == "2:8 control-character");
  CHECK(read_lines("says \"a\u202Eb\"").message() == "2:8 control-character");
}

TEST_CASE("UTF-16 gets one message") {
  CHECK(read("\xFF\xFE\x63\0\x61\0"s).message() == "1:1 not-utf8");
}

TEST_CASE("a text without its closing quote is reported where it began") {
  const Reading reading = read_lines("    says \"open\n    group a\n");
  CHECK(reading.message() == "2:10 quote-missing");
  CHECK(reading.file.declarations.at(0).clauses.size() == 2);
}

TEST_CASE("a text that runs over lines gets one message") {
  const Reading reading = read_lines("    says \"one\n      two\n      three\"\n    group a\n");
  CHECK(reading.message() == "2:10 quote-missing");
  CHECK(reading.file.declarations.at(0).clauses.size() == 2);
}

TEST_CASE("a text without its opening quote gets one message") {
  const Reading reading = read_lines("    says Don't {know} it; yet\"\n    group a\n");
  CHECK(reading.message() == "2:10 quote-missing");
  CHECK(reading.file.declarations.at(0).clauses.size() == 2);
}

TEST_CASE("signs of other languages are reported with what to write") {
  CHECK(read_lines("when a && b").message() == "2:8 wrong-symbol");
  CHECK(read_lines("when a || b").message() == "2:8 wrong-symbol");
  CHECK(read_lines("when a == 5 bar").message() == "2:8 wrong-symbol");
  CHECK(read_lines("when a != 5 bar").message() == "2:8 wrong-symbol");
  CHECK(read_lines("when !a").message() == "2:6 wrong-symbol");
  CHECK(read_lines("when { a or b }").message() == "2:6 wrong-symbol");
  CHECK(read_lines("group a;").message() == "2:8 wrong-symbol");
  CHECK(read_lines("needs a; b").message() == "2:8 wrong-symbol");
  CHECK(read_lines("group a.").message() == "2:8 wrong-symbol");
  CHECK(read_lines("says 'x'").message() == "2:6 single-quotes");
}

std::string nested(std::size_t depth) {
  return "when " + std::string(depth, '(') + " a " + std::string(depth, ')');
}

TEST_CASE("200 parentheses within each other are read") {
  CHECK(read_lines(nested(most_nesting)).message().empty());
}

TEST_CASE("deeper nesting is refused once, however deep it is") {
  CHECK(read_lines(nested(most_nesting + 1)).message() == "2:206 too-deep");
  CHECK(read_lines(nested(100'000)).message() == "2:206 too-deep");
}

TEST_CASE("parentheses that were never closed do not count for the next line") {
  std::string lines;
  for (int i = 0; i < 30; ++i) lines += "    when " + std::string(10, '(') + " a\n";
  for (const std::string& each : read_lines(lines).messages()) {
    CHECK(each.ends_with("parenthesis-missing"));
  }
}

TEST_CASE("what is hard to read takes no longer than its length") {
  // Each of these took the square of its length in some way of reading it.
  const auto many = [](std::string_view part) {
    std::string text;
    while (text.size() < 300'000) text += part;
    return text;
  };
  for (const char* const part : {"(", "\"a\" ", "1,", "000 ", "a;", "'", "{ ", "x\n", "says a\"\n",
                                 "says \"a\n", "a word and another\n", "\x80", "not ", "any a ("}) {
    CAPTURE(part);
    CHECK(read("cause x when " + many(part)).messages().size() <= slipcase::most_messages + 1);
  }
}

TEST_CASE("long chains of not, minus and or do not recurse") {
  std::string negations = "when ";
  std::string differences = "when a";
  std::string choices = "when a";
  for (int i = 0; i < 100'000; ++i) {
    negations += "not ";
    differences += " minus b";
    choices += " or b";
  }
  CHECK(read_lines(negations + "a").messages().size() == slipcase::most_messages + 1);
  CHECK(read_lines(differences + " > 3 bar").message() == "2:160 condition-too-long");
  CHECK(read_lines(choices).message().empty());
}

}  // namespace
}  // namespace slipcase::language::testing
