#include <doctest/doctest.h>

#include "shop.h"

using namespace slipcase::test;

namespace {

std::string trial(std::string_view lines) {
  return with_shop("trial \"t\" " + std::string(lines) + "\nexpect regulator_worn first");
}

}  // namespace

TEST_CASE("a trial states facts of one job and what must come out") {
  CHECK(trial("opened 2031-04-15 odometer 5 km\n"
              "with flare of 2-3 sometimes, no flare of 3-4, use is towing, tuned, no level_low\n"
              "with fill_time of K2 is 48 ms, built is 2029-01-02, stored P0733\n"
              "with values_cleared on 2031-03-02 at 147100 km by others, no drum_rebuilt of K1\n"
              "with air_check of K1, look on 2031-03-02\n"
              "expect lining_worn of K3 not judged\n"
              "expect lining_worn of K3 among first 3\n"
              "expect regulator_worn above 6 of 10\n"
              "expect regulator_worn before lining_worn of K1\n"
              "expect next look\n"
              "expect flare of 2-3 unknown\n"
              "expect flare of 2-3 always\n"
              "expect no level_low") == "");
}

TEST_CASE("a trial expects something") {
  CHECK(with_shop("trial \"t\" with level_low") == "2:1 trial-shape");
}

TEST_CASE("a trial is a card or is written out") {
  CHECK(trial("job \"jobs/a.yaml\"") == "");
  CHECK(trial("job \"jobs/a.yaml\" with level_low") == "2:15 trial-shape");
}

TEST_CASE("facts of a trial fit what they are about") {
  CHECK(trial("with flare of any shift").find("which-member") != std::string::npos);
  CHECK(trial("with flare of 2-3 loud") == "2:29 unknown-grade");
  CHECK(trial("with use is racing") == "2:23 unknown-choice");
  CHECK(trial("with odometer") == "2:16 trial-shape");
  CHECK(trial("with odometer is 5 ms") == "2:28 wrong-dimension");
  CHECK(trial("with built is 5 km") == "2:16 trial-shape");
  CHECK(trial("with values_cleared") == "2:16 trial-shape");
  CHECK(trial("with level_low is 5 km") == "2:16 trial-shape");
  CHECK(trial("with hot") == "2:16 wrong-kind");
  CHECK(trial("with stored P9999").find("unknown-code") != std::string::npos);
}

TEST_CASE("expectations are about causes, checks and findings") {
  CHECK(with_shop("trial \"t\" with level_low expect level_low first").find("wrong-kind") !=
        std::string::npos);
  CHECK(with_shop("trial \"t\" with level_low expect regulator_worn among first 0") ==
        "2:60 trial-shape");
  CHECK(with_shop("trial \"t\" with level_low expect regulator_worn above 7 of 6")
            .find("impossible-count") != std::string::npos);
}

TEST_CASE("a shipped trial about what the shop removed is left out") {
  const auto resolved =
      resolve_texts({{"s",
                      "language 1\nfinding f asks \"?\" otherwise in 1 of 9 jobs\n"
                      "finding g asks \"?\" otherwise in 1 of 9 jobs\n"
                      "cause c found in 1 of 9 jobs shows g in 1 of 2 jobs\n"
                      "trial \"a\" with f expect c first\ntrial \"b\" with g expect c first",
                      slipcase::Origin::shipped},
                     {"o", "language 1\nremove f", slipcase::Origin::own}});
  CHECK(resolved.text() == "");
  REQUIRE(resolved.rules.has_value());
  REQUIRE(resolved.rules->trials.size() == 1);
  CHECK(resolved.rules->trials.front().title == "b");
}

TEST_CASE("a trial about a member that the shop took out of use is left out") {
  const auto resolved =
      resolve_texts({{"s",
                      "language 1\nunit small\nfinding f asks \"?\" otherwise in 1 of 9 jobs\n"
                      "cause c of element found in 1 of 9 jobs shows f in 1 of 2 jobs\n"
                      "trial \"a\" with f expect c of K1 first\n"
                      "trial \"b\" with f expect c of K2 first",
                      slipcase::Origin::shipped},
                     {"o", "language 1\nunit small\nremove c of K1", slipcase::Origin::own}});
  CHECK(resolved.text() == "");
  REQUIRE(resolved.rules.has_value());
  REQUIRE(resolved.rules->trials.size() == 1);
  CHECK(resolved.rules->trials.front().title == "b");
}

TEST_CASE("a trial has a name of its own") {
  CHECK(with_shop("trial \"\" with level_low expect regulator_worn first") == "2:7 trial-shape");
  CHECK(with_shop("trial \"t\" with level_low expect regulator_worn first\n"
                  "trial \"t\" with no level_low expect level_low unknown") ==
        "3:7 trial-named-twice");
}

TEST_CASE("a trial is refused what cannot be") {
  CHECK(trial("odometer -5 km with level_low") == "2:20 impossible-number");
  CHECK(trial("with values_cleared at -5 km") == "2:34 impossible-number");
  CHECK(with_shop("trial \"t\" with level_low expect regulator_worn before regulator_worn") ==
        "2:55 trial-shape");
  CHECK(with_shop("trial \"t\" with level_low\n"
                  "expect lining_worn of K1 before lining_worn of K2") == "");
}
