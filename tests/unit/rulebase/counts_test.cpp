#include <doctest/doctest.h>

#include "shop.h"

using namespace slipcase::test;

namespace {

std::string shows(std::string_view what) {
  return with_shop("cause a found in 1 of 9 jobs\nshows " + std::string(what));
}

}  // namespace

TEST_CASE("a count is of some that were counted") {
  CHECK(shows("level_low in 12 of 10 jobs") == "3:20 impossible-count");
  CHECK(shows("level_low in 0 of 0 jobs") == "3:25 impossible-count");
  CHECK(shows("level_low in 0 of 30 jobs") == "");
}

TEST_CASE("a graded count names every grade but the strongest with or more") {
  CHECK(shows("flare of 2-3 sometimes or more in 7, always in 5 of 10 jobs") == "");
  CHECK(shows("flare of 2-3 in 7 of 10 jobs") == "");
  CHECK(shows("flare of 2-3 always in 7 of 10 jobs") == "");
  CHECK(shows("flare of 2-3 sometimes in 5, always in 3 of 10 jobs") == "3:20 grade-or-more");
  CHECK(shows("flare of 2-3 sometimes in 5 of 10 jobs") == "3:20 grade-or-more");
  CHECK(shows("flare of 2-3 always or more in 5 of 10 jobs") == "3:20 grade-or-more");
}

TEST_CASE("a stronger grade is not seen more often") {
  CHECK(shows("flare of 2-3 sometimes or more in 5, always in 7 of 10 jobs") ==
        "3:54 stronger-is-larger");
}

TEST_CASE("grades are those of the finding") {
  CHECK(shows("flare of 2-3 never_ending in 5 of 10 jobs") == "3:20 unknown-grade");
  CHECK(shows("level_low always in 5 of 10 jobs") == "3:17 unknown-grade");
  CHECK(shows("flare of 2-3 always or more in 5, always in 4 of 10 jobs") == "3:41 named-twice");
}

TEST_CASE("together is for several") {
  CHECK(with_shop("cause a found in 1 of 9 jobs together shows level_low in 1 of 2 jobs") ==
        "2:18 together-alone");
  CHECK(with_shop("cause a of element found in 1 of 9 jobs together\n"
                  "shows level_low in 1 of 2 jobs") == "");
  CHECK(shows("harsh of each shift in 1 of 9 jobs together") == "");
}

TEST_CASE("a count for a member replaces the one for all") {
  const auto resolved = resolve_text(
      "finding f asks \"?\" otherwise in 1 of 9 jobs\n"
      "cause a of element found in 1 of 50 jobs, except K3 in 1 of 20 jobs shows f in 1 of 2 jobs");
  CHECK(resolved.text() == "");
  REQUIRE(resolved.rules.has_value());
  const auto& found = resolved.rules->causes.front().found;
  using slipcase::rulebase::MemberId;
  CHECK(found.at(MemberId{0})->count.total() == 50);
  CHECK(found.at(MemberId{2})->count.total() == 20);
}

TEST_CASE("members in an except are of the cause's scope and named once") {
  CHECK(with_shop("cause a found in 1 of 9 jobs, except K3 in 1 of 2 jobs\n"
                  "shows level_low in 1 of 2 jobs") == "2:38 no-members");
  CHECK(with_shop("cause a of element found in 1 of 9 jobs, except K9 in 1 of 2 jobs\n"
                  "shows level_low in 1 of 2 jobs") == "2:49 unknown-member");
  CHECK(with_shop(
            "cause a of element found in 1 of 9 jobs, except K1 in 1 of 2 jobs, K1 in 1 of 3 jobs\n"
            "shows level_low in 1 of 2 jobs") == "2:68 named-twice");
}

TEST_CASE("a multiplier is above nothing and costs are not negative") {
  CHECK(with_shop("cause a found in 1 of 9 jobs becomes 0 times as likely when tuned\n"
                  "shows level_low in 1 of 2 jobs") == "2:38 impossible-number");
  CHECK(with_shop("access a takes -1 h") == "2:16 impossible-number");
}

TEST_CASE("good cars are the same cars in every line of a check") {
  CHECK(with_shop("check c takes 1 h\n"
                  "flags regulator_worn in 8 of 10 bad, in 1 of 10 good\n"
                  "flags lining_worn of K1 in 8 of 10 bad, in 2 of 10 good") ==
        "4:1 good-counts-differ");
}
