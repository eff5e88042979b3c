#include <doctest/doctest.h>

#include "shop.h"

using namespace slipcase::test;

TEST_CASE("an unknown name is reported once, with a near one that is valid there") {
  CHECK(with_shop("cause a found in 1 of 9 jobs shows level_lwo in 1 of 2 jobs") ==
        "2:36 unknown-name");
  CHECK(said_with_shop("cause a found in 1 of 9 jobs shows level_lwo in 1 of 2 jobs") ==
        "`level_lwo` is declared nowhere, did you mean `level_low`?");
}

TEST_CASE("a suggestion is only a name that can stand there") {
  // `look` is a check and cannot be shown.
  CHECK(said_with_shop("cause a found in 1 of 9 jobs shows lok in 1 of 2 jobs") ==
        "`lok` is declared nowhere");
}

TEST_CASE("part of several names asks which one") {
  const char* lines = "finding f when happened cleared";
  CHECK(with_shop(lines) == "2:25 clear-which");
  CHECK(said_with_shop(lines) ==
        "`cleared` could be `values_cleared` or `codes_cleared`; write the whole name");
}

TEST_CASE("a name of the wrong kind is refused with what is needed") {
  CHECK(with_shop("check c takes 5 minutes answers hot") == "2:33 wrong-kind");
  CHECK(said_with_shop("check c takes 5 minutes answers hot") ==
        "`hot` is a caution; `answers` needs a detail, a reading or a finding");
}

TEST_CASE("a second declaration of a name is refused and the first pointed at") {
  CHECK(with_shop("caution look says \"x\"").find("already-there") != std::string::npos);
  const auto resolved = resolve_text("event a\nevent a");
  CHECK(resolved.messages() == "3:7 already-there");
  REQUIRE(resolved.diagnostics.list().front().notes.size() == 1);
}

TEST_CASE("functions of values and words of the profile cannot be names") {
  CHECK(messages_of("event median") == "2:7 function-name");
  CHECK(messages_of("event gear") == "2:7 function-name");
}

TEST_CASE("a group cannot have the name of something else") {
  CHECK(with_shop("cause a group level_low found in 1 of 9 jobs shows level_low in 1 of 2 jobs") ==
        "2:15 already-there");
}

TEST_CASE("the wrong word for what leads somewhere is explained both ways") {
  CHECK(with_shop("cause a found in 1 of 9 jobs then causes level_low in 1 of 2 jobs") ==
        "2:42 wrong-link-word");
  CHECK(with_shop("cause a found in 1 of 9 jobs shows regulator_worn in 1 of 2 jobs") ==
        "2:36 wrong-link-word");
  CHECK(with_shop("cause a found in 1 of 9 jobs shows air_check of each element in 1 of 2 jobs") ==
        "2:36 wrong-link-word");
}

TEST_CASE("a dimension that does not exist is refused with the ones that do") {
  CHECK(messages_of("reading r : presure") == "2:13 unknown-dimension");
}

TEST_CASE("checks and repairs are events, and a check that flags is a finding") {
  CHECK(with_shop("finding f of element when happened overhaul and air_check of element") == "");
}
