#include <doctest/doctest.h>

#include "shop.h"

using namespace slipcase::test;

TEST_CASE("a line that belongs elsewhere is refused with what to write instead") {
  const char* lines = "finding f asks \"?\" found in 1 of 20 jobs";
  CHECK(with_shop(lines) == "2:20 clause-not-here");
  CHECK(
      said_with_shop(lines) ==
      "`f` is a finding; `found` belongs to a cause; for a finding write `overall in 1 of 20 jobs` "
      "(of all cars that come in) or `otherwise in 1 of 100 jobs` (of cars with none of the causes "
      "that show it)");
}

TEST_CASE("an inside has no question") {
  CHECK(with_shop("inside i asks \"?\" otherwise in 1 of 9 jobs") == "2:10 inside-not-asked");
}

TEST_CASE("a line that can be there once is refused the second time") {
  CHECK(with_shop("event e says \"a\" says \"b\"") == "2:18 clause-twice");
}

TEST_CASE("what a declaration must say is asked for at its name") {
  CHECK(with_shop("cause a shows level_low in 1 of 2 jobs") == "2:7 clause-missing");
  CHECK(with_shop("inside i shows level_low in 1 of 2 jobs") == "2:8 clause-missing");
  CHECK(with_shop("finding f otherwise in 1 of 9 jobs") == "2:9 clause-missing");
  CHECK(with_shop("check c takes 1 h") == "2:7 clause-missing");
  CHECK(with_shop("check c answers level_low") == "2:7 clause-missing");
  CHECK(with_shop("repair r cures regulator_worn") == "2:8 clause-missing");
  CHECK(with_shop("access a costs 5") == "2:8 clause-missing");
  CHECK(with_shop("caution c") == "2:9 clause-missing");
}

TEST_CASE("a distrust says when, why and what") {
  CHECK(with_shop("distrust d sets aside fill_time because \"x\"") == "2:10 clause-missing");
  CHECK(with_shop("distrust d when tuned sets aside fill_time") == "2:10 clause-missing");
  CHECK(with_shop("distrust d when tuned because \"x\"") == "2:10 clause-missing");
}

TEST_CASE("a finding that is shown needs a rate without its causes") {
  CHECK(with_shop("finding f asks \"?\"\n"
                  "cause a found in 1 of 9 jobs shows f in 1 of 2 jobs") == "2:9 clause-missing");
  CHECK(with_shop("finding f asks \"?\"") == "");
}

TEST_CASE("a missing line is not asked for where one could not be read") {
  const auto resolved = resolve_text("cause a found in 8 in 10 jobs");
  CHECK(resolved.diagnostics.list().size() == 1);
}

TEST_CASE("a finding has one rate, over all jobs or without its causes") {
  CHECK(with_shop("finding f asks \"?\" otherwise in 1 of 9 jobs overall in 1 of 8 jobs") ==
        "2:53 two-rates");
}

TEST_CASE("a text names the declaration's own member only") {
  CHECK(with_shop("finding f of shift says \"{element}\" asks \"{shift}?\"") ==
        "2:25 placeholder-unknown");
  CHECK(with_shop("finding f asks \"{shift}?\"") == "2:16 placeholder-unknown");
}

TEST_CASE("grades of a worked-out finding have their conditions behind them") {
  CHECK(with_shop("finding f grade low when tuned grade high when tuned when tuned") ==
        "2:59 grade-conditions");
  CHECK(with_shop("finding f grade low grade high when tuned") == "2:17 grade-conditions");
}

TEST_CASE("what is listed twice is refused") {
  CHECK(with_shop("finding f asks \"?\" grade low grade low") == "2:36 named-twice");
  CHECK(with_shop("detail d : one of a, b, a") == "2:25 named-twice");
  CHECK(with_shop("at most one of level_low, level_low") == "2:27 named-twice");
  CHECK(with_shop("access a takes 1 h needs unit_out, unit_out") == "2:36 named-twice");
}

TEST_CASE("at most one is of several findings of one scope") {
  CHECK(with_shop("at most one per shift of harsh, flare") == "");
  CHECK(with_shop("at most one of level_low, harsh") == "2:27 wrong-scope");
  CHECK(with_shop("at most one per shift of harsh, level_low") == "2:33 wrong-scope");
}

TEST_CASE("what stands once for the unit has no scope") {
  CHECK(with_shop("distrust d of element when tuned sets aside fill_time because \"x\"") ==
        "2:15 no-members");
}

TEST_CASE("at most one needs two or more") {
  CHECK(with_shop("at most one of level_low") == "2:1 too-few-alternatives");
}

TEST_CASE("what cannot be read in a declaration is not complained of where it is used") {
  CHECK(with_shop("cause a of elemnt found in 1 of 9 jobs shows slips of element in 1 of 2 jobs\n"
                  "check c takes 1 h flags a of K1 in 8 of 10 bad, in 1 of 10 good") ==
        "2:12 unknown-scope");
  CHECK(with_shop("reading r of element : presure\nfinding f when r of K1 > 5 mbar") ==
        "2:24 unknown-dimension");
  CHECK(with_shop("detail d yes or no\nfinding f when d").find(';') == std::string::npos);
}
