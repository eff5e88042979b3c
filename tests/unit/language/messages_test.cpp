// Slips and the message each gets: its name and its place.
#include <doctest/doctest.h>

#include "language/reporter.h"
#include "support/listed.h"
#include "unit/language/reading.h"

namespace slipcase::language::testing {
namespace {

/// One wrong line below `cause x`, and where it is reported.
struct Slip {
  std::string_view line;
  std::string_view message;
};

void check_slips(std::initializer_list<Slip> slips) {
  for (const Slip& slip : slips) {
    CAPTURE(slip.line);
    CHECK(read_lines(slip.line).message() == slip.message);
  }
}

std::string only_text(std::string_view line) {
  const Reading reading = read_lines(line);
  REQUIRE(reading.diagnostics.list().size() == 1);
  return reading.diagnostics.list().front().text;
}

TEST_CASE("a count is told how to be written") {
  check_slips({
      {"found in 80 % of jobs", "2:13 count-shape"},
      {"found in 8/10 jobs", "2:10 count-shape"},
      {"found in 8 out of 10 jobs", "2:12 count-shape"},
      {"found in 8.5 of 10 jobs", "2:10 count-shape"},
      {"found in 8,5 of 10 jobs", "2:10 count-shape"},
      {"found in -8 of 10 jobs", "2:10 count-shape"},
      {"found in 20000000000000000000 of 10 jobs", "2:10 count-shape"},
      {"found in 8 in 10 jobs", "2:12 expected-other"},
      {"found in 8 of 10", "2:15 expected-other"},
      {"found 8 of 10 jobs", "2:7 expected-other"},
      {"shows a 8 of 10 jobs", "2:9 expected-other"},
  });
  CHECK(only_text("found in 8/10 jobs") == "write what you saw: `8 of 10 jobs`");
  CHECK(only_text("found in 8 in 10 jobs") == "expected `of` (as in `8 of 10 jobs`), found `in`");
}

TEST_CASE("every grade but the strongest says or more") {
  check_slips({
      {"shows a raised in 5, high in 3 of 10 jobs", "2:9 grade-or-more"},
      {"shows a low or more in 9, raised in 5, high in 3 of 10 jobs", "2:27 grade-or-more"},
      {"shows a raised or more in 8, high in 3 of 10 jobs", ""},
  });
  CHECK(only_text("shows a raised in 5, high in 3 of 10 jobs").find("`raised or more in 8`") !=
        std::string::npos);
}

TEST_CASE("flags explains its two counts") {
  check_slips({
      {"flags y in 17 of 20", "2:18 flags-needs-bad-good"},
      {"flags y", "2:7 flags-needs-bad-good"},
      {"flags y in 17 of 20 jobs, in 2 of 20 jobs", "2:21 flags-needs-bad-good"},
      {"flags y in 17 of 20 good, in 2 of 20 bad", "2:21 flags-needs-bad-good"},
  });
}

TEST_CASE("dates in other orders and days that do not exist are date-shape") {
  check_slips({
      {"dated 4/22/2031", "2:7 date-shape"},
      {"dated 22.4.2031", "2:7 date-shape"},
      {"dated 2031-4-2", "2:7 date-shape"},
      {"dated 2031-02-30", "2:7 date-shape"},
      {"dated April", "2:7 date-shape"},
      {"when opened > 4/22/2031", "2:15 date-shape"},
      {"with x on 3.4.2031", "2:11 date-shape"},
      {"dated 2032-02-29", ""},
  });
}

TEST_CASE("numbers with commas and blanks, and units without one meaning, are unit-shape") {
  check_slips({
      {"when a > 2,5 bar", "2:10 unit-shape"},
      {"when a > 91,400 miles", "2:10 unit-shape"},
      {"when a > 1,234,567 km", "2:10 unit-shape"},
      {"when a > 200 000 km", "2:10 unit-shape"},
      {"when a > 200\u00A0000 km", "2:10 unit-shape"},
      {"found in 1 of 12 000 jobs", "2:15 unit-shape"},
      {"takes 5 min", "2:9 unit-shape"},
      {"takes 5min", "2:8 unit-shape"},
      {"when time since x > 1 month", "2:23 unit-shape"},
      {"when time since x > 2 years", "2:23 unit-shape"},
      {"when a > 1e999 bar", "2:10 number-shape"},
  });
  CHECK(only_text("takes 5 min").ends_with("write `5 minutes`"));
  CHECK(only_text("when time since x > 2 months").ends_with("write `60 days`"));
  CHECK(only_text("when a > 91,400 miles").ends_with("write `91400`"));
  CHECK(only_text("when a > 2,5 bar").ends_with("write `2.5`"));
}

TEST_CASE("names that are declared have the shape of a name") {
  const auto message = [](std::string_view header) { return read(std::string(header)).message(); };
  CHECK(message("cause Lining-Worn of element") == "1:7 name-shape");
  CHECK(message("cause 2nd_gear") == "1:7 name-shape");
  CHECK(message("cause \"lining worn\"") == "1:7 name-shape");
  CHECK(message("cause lining worn of element") == "1:7 name-shape");
  CHECK(message("cause größe") == "1:7 name-shape");
  CHECK(message("cause source") == "1:7 reserved-name");
  CHECK(message("cause\n  says \"x\"") == "1:1 expected-other");
  CHECK(message("cause of element") == "1:7 expected-other");
  CHECK(message("unit Six-Speed") == "1:6 name-shape");
}

TEST_CASE("a name of the wrong shape is kept, so that its uses are not reported as well") {
  CHECK(read("cause Lining-Worn of element").file.declarations.at(0).name.text == "Lining-Worn");
}

TEST_CASE("names that are used stand without quotes and are no words of the language") {
  check_slips({
      {"shows \"slips\" in 8 of 10 jobs", "2:7 name-shape"},
      {"shows source in 8 of 10 jobs", "2:7 reserved-name"},
      {"shows in 8 of 10 jobs", "2:7 expected-other"},
      {"shows slips of in 8 of 10 jobs", "2:16 expected-other"},
  });
}

TEST_CASE("words within a line are corrected at their place") {
  check_slips({
      {"then cuases b in 1 of 10 jobs", "2:6 expected-other"},
      {"sets asid x", "2:6 expected-other"},
      {"possible only a", "2:15 expected-other"},
      {"becomes 3 times likely when a", "2:17 expected-other"},
      {"becomes 3 times as likely wen a", "2:27 expected-other"},
      {"says: \"x\"", "2:5 expected-other"},
      {"says x", "2:6 expected-other"},
      {"takes five minutes", "2:7 expected-other"},
      {"group hard part", "2:12 expected-other"},
      {"needs a,", "2:8 expected-other"},
  });
  CHECK(only_text("then cuases b in 1 of 10 jobs").ends_with("did you mean `causes`?"));
  CHECK(only_text("says: \"x\"").ends_with("leave it out"));
}

TEST_CASE("what is said in other words is told in those of the language") {
  check_slips({
      {"becomes 2 times more likely when a", "2:9 expected-other"},
      {"shows slips K2 in 8 of 10 jobs", "2:7 expected-other"},
  });
  CHECK(only_text("becomes 2 times more likely when a").starts_with("write `2 times as likely"));
  CHECK(only_text("shows slips K2 in 8 of 10 jobs").ends_with("did you mean `slips of K2`?"));
  CHECK(read("revise cause lining_worn\n  found in 1 of 9 jobs").message() == "1:8 expected-other");
  CHECK(read("trial \"t\"\n  with a, b yes").message() == "2:13 expected-other");
  CHECK(read("trial \"t\"\n  with a no").message() == "2:10 expected-other");
  CHECK(read("trial \"t\"\n  expect worn K2 first").message() == "2:10 expected-other");
  CHECK(read("trial \"t\"\n  with flare 2-3 always").message() == "2:8 expected-other");
}

TEST_CASE("the first word of a line is corrected") {
  check_slips({
      {"show slips in 8 of 10 jobs", "2:1 unknown-word"},
      {"    fuond in 8 of 10 jobs", "2:5 unknown-word"},
      {"    thn causes b in 1 of 10 jobs", "2:5 unknown-word"},
  });
  CHECK(only_text("    show slips in 8 of 10 jobs").ends_with("did you mean `shows`?"));
  CHECK(only_text("    thn causes b in 1 of 10 jobs").ends_with("did you mean `then causes`?"));
}

TEST_CASE("a misspelt declaration is corrected and read as the one that was meant") {
  const Reading reading = read("finding f\n    says \"F\"\ncasue x of element\n    says \"X\"\n");
  CHECK(reading.message() == "3:1 unknown-word");
  REQUIRE(reading.file.declarations.size() == 2);
  CHECK(reading.file.declarations.at(1).kind == DeclarationKind::cause);
  CHECK(reading.file.declarations.at(1).broken);
  CHECK(reading.file.declarations.at(1).clauses.size() == 1);
}

TEST_CASE("lines outside a declaration and unknown declarations are reported once each") {
  const Reading reading = read("says \"x\"\nfault lining\n    says \"y\"\n    group z\ncause c\n");
  CHECK(reading.message() == "1:1 outside-declaration, 2:1 unknown-word");
  CHECK(reading.file.declarations.size() == 1);
}

TEST_CASE("the lines of an unknown declaration are not given to the one above") {
  const Reading reading = read("cause c\n    says \"c\"\nfault lining\n    says \"y\"\ncause d\n");
  CHECK(reading.message() == "3:1 unknown-word");
  CHECK(reading.file.declarations.at(0).clauses.size() == 1);
  CHECK(reading.file.declarations.size() == 2);
}

TEST_CASE("language and unit are checked") {
  CHECK(read("language 2").message() == "1:10 language-version");
  CHECK(read("language one").message() == "1:10 expected-other");
  CHECK(read("language 1\nlanguage 1").message() == "2:1 expected-other");
  CHECK(read("unit a\nunit b").message() == "2:1 expected-other");
}

TEST_CASE("types of details are checked") {
  CHECK(read("detail a one of b, c").message() == "1:10 expected-other");
  CHECK(read("detail a : one b").message() == "1:16 expected-other");
  CHECK(read("detail a : yes or maybe").message() == "1:19 expected-other");
  CHECK(read("reading a :\n").message() == "1:11 expected-other");
}

TEST_CASE("a broken line marks its declaration, and only that") {
  const Reading reading = read("cause a\n  found in 8 jobs\n  says \"a\"\ncause b\n  says \"b\"\n");
  CHECK(reading.file.declarations.at(0).broken);
  CHECK(reading.file.declarations.at(0).clauses.size() == 1);
  CHECK(!reading.file.declarations.at(1).broken);
}

TEST_CASE("a line that was guessed or goes on with something else is not built on") {
  const Reading reading = read_lines(
      "    when a == b\n"
      "    never when odometer > 200 000 km\n"
      "    group hard part\n"
      "    found in 1 of 90 jobs;\n"
      "    takes 30 minutes neds b\n");
  CHECK(reading.messages().size() == 5);
  CHECK(reading.file.declarations.at(0).broken);
  REQUIRE(reading.file.declarations.at(0).clauses.size() == 3);
  CHECK(print(reading.file.declarations.at(0).clauses.at(0)) == "found in 1 of 90 jobs");
  CHECK(print(reading.file.declarations.at(0).clauses.at(2)) == "needs b");
}

TEST_CASE("all errors of a file are reported in one run, in the order of the text") {
  const Reading reading = read_lines(
      "    found in 8 in 10 jobs\n"
      "    shwos a in 8 of 10 jobs\n"
      "    shows b in 8/10 jobs\n"
      "    when a & b\n"
      "    source common practice\n"
      "    group hard_part\n");
  CHECK(reading.message() ==
        "2:16 expected-other, 3:5 unknown-word, 4:16 count-shape, 5:12 wrong-symbol, "
        "6:12 expected-other");
  CHECK(reading.file.declarations.at(0).clauses.size() == 2);
}

TEST_CASE("after fifty messages the list ends and says so") {
  std::string lines;
  for (int i = 0; i < 1000; ++i) lines += "    found in 8 jobs\n";
  const Reading reading = read_lines(lines + "event e\n");
  CHECK(reading.file.declarations.back().name.text == "e");
  REQUIRE(reading.messages().size() == slipcase::most_messages + 1);
  CHECK(reading.messages().back() == "52:16 too-many-errors");
}

TEST_CASE("an empty text and one of comments alone are fine") {
  CHECK(read("").message().empty());
  CHECK(read("# nothing\n\n").file.declarations.empty());
}

}  // namespace
}  // namespace slipcase::language::testing
