#include <doctest/doctest.h>

#include "shop.h"

using namespace slipcase::test;

namespace {

// A rule base that nothing can be said against; lines of a test stand before it.
constexpr std::string_view sound = R"(
detail use : one of private, towing asks "Use?"
reading pressure of element : pressure
finding noise asks "Noise?" otherwise in 1 of 20 jobs
finding flare of shift asks "Flare?" otherwise in 1 of 50 jobs
inside slips of element
    otherwise in 1 of 100 jobs
    shows flare of each shift applying element in 8 of 10 jobs
cause worn of element
    found in 1 of 50 jobs
    becomes 3 times as likely when use is towing
    shows slips of element in 9 of 10 jobs
cause loose
    found in 1 of 30 jobs
    shows noise in 5 of 10 jobs
check listen takes 5 minutes answers noise
repair mend takes 1 h cures worn of each element, loose
)";

std::string with_sound(std::string_view lines) {
  return warnings_of(std::string(lines) + std::string(sound));
}

std::string meaning_of(std::string_view condition) {
  return with_sound("finding f of element asks \"?\"\nwhen " + std::string(condition) +
                    "\notherwise in 1 of 50 jobs\nextend worn shows f of element in 1 of 2 jobs");
}

}  // namespace

TEST_CASE("sound rules get no warning") { CHECK(with_sound("") == ""); }

TEST_CASE("counts of a check that add up look like counts of the wrong cars") {
  CHECK(with_sound("check c takes 1 h flags loose in 17 of 20 bad, in 3 of 20 good") ==
        "2:19 flags-adds-up");
  const auto resolved = [] {
    auto result = resolve_text("check c takes 1 h flags loose in 17 of 20 bad, in 3 of 20 good" +
                               std::string(sound));
    slipcase::rulebase::check_meaning(*result.rules, result.diagnostics);
    return result;
  }();
  // Odds 1 to 29, times 17/3: 17 of 104, about 1 of 6.
  CHECK(resolved.diagnostics.list().front().text.ends_with(
      "a positive answer raises `loose` from 1 of 30 to about 1 of 6"));
  CHECK(with_sound("check c takes 1 h flags loose in 17 of 20 bad, in 2 of 20 good") == "");
}

TEST_CASE("many members shown one by one are many witnesses") {
  CHECK(with_sound("extend loose shows flare of each shift in 8 of 10 jobs") ==
        "2:14 many-witnesses");
  CHECK(with_sound("extend loose shows flare of 1-2 in 8 of 10 jobs") == "");
}

TEST_CASE("fewer than without a cause is no link") {
  CHECK(with_sound("finding f asks \"?\" otherwise in 1 of 10 jobs\n"
                   "extend loose shows f in 1 of 20 jobs") == "3:22 fewer-than-otherwise");
  CHECK(with_sound("cause a found in 1 of 9 jobs shows noise in 1 of 2 jobs\n"
                   "then causes b in 1 of 100 jobs\n"
                   "cause b found in 3 of 10 jobs shows noise in 1 of 2 jobs\n"
                   "extend mend cures a, b") == "3:1 fewer-than-otherwise");
  // Within half a count nothing is said.
  CHECK(with_sound("finding f asks \"?\" otherwise in 1 of 10 jobs\n"
                   "extend loose shows f in 1 of 12 jobs") == "");
}

TEST_CASE("n of n means always") {
  CHECK(with_sound("extend loose shows flare of 1-2 in 8 of 8 jobs") == "2:33 every-time");
  CHECK(with_sound("check c takes 1 h flags loose in 8 of 8 bad, in 1 of 20 good") ==
        "2:19 every-time");
}

TEST_CASE("a layer that raises a count and multiplies it is asked whether it is the same") {
  auto resolved =
      resolve_texts({{"s", "language 1\n" + std::string(sound), slipcase::Origin::shipped},
                     {"o",
                      "language 1 unit small\nextend worn of K3\nfound in 1 of 12 jobs\n"
                      "becomes 2 times as likely when use is private",
                      slipcase::Origin::own}});
  REQUIRE(resolved.rules.has_value());
  slipcase::rulebase::check_meaning(*resolved.rules, resolved.diagnostics);
  CHECK(resolved.messages() == "o:4:1 raised-twice");
}

TEST_CASE("what leads nowhere is warned of") {
  CHECK(with_sound("cause c found in 1 of 9 jobs\nextend mend cures c") == "2:7 shows-nothing");
  CHECK(with_sound("inside i otherwise in 1 of 9 jobs\nextend loose shows i in 1 of 2 jobs") ==
        "2:8 shows-nothing");
}

TEST_CASE("what nothing leads to is warned of") {
  CHECK(with_sound("finding f asks \"?\" otherwise in 1 of 9 jobs") == "2:9 nothing-leads-here");
  CHECK(with_sound("inside i otherwise in 1 of 9 jobs shows noise in 1 of 2 jobs") ==
        "2:8 nothing-leads-here");
}

TEST_CASE("a question that nothing needs is warned of") {
  CHECK(with_sound("detail d : yes or no asks \"?\"") == "2:8 question-unused");
  CHECK(with_sound("event e asks \"?\"") == "2:7 question-unused");
  CHECK(with_sound("detail d : yes or no") == "");
}

TEST_CASE("one reading that a cause shows twice is warned of") {
  const std::string findings =
      "finding a of element when pressure of element > 9 mbar otherwise in 1 of 50 jobs\n"
      "finding b of element when slope of pressure of element > 1 mbar per 9 km\n"
      "otherwise in 1 of 50 jobs\n";
  CHECK(with_sound(findings + "extend worn shows a of element in 1 of 2 jobs\n"
                              "shows b of element in 1 of 2 jobs") == "6:1 same-reading-twice");
  CHECK(with_sound(findings + "extend worn shows a of element in 1 of 2 jobs\n"
                              "shows b of element in 1 of 2 jobs\n"
                              "at most one per element of a, b") == "");
  CHECK(with_sound(findings + "extend loose shows a of K1 in 1 of 2 jobs\n"
                              "shows b of K2 in 1 of 2 jobs") == "");
}

TEST_CASE("a repair cures something or is waited for") {
  CHECK(with_sound("repair r takes 1 h") == "2:8 cures-nothing");
  CHECK(with_sound("repair r takes 1 h\nextend mend follow with r") == "");
}

TEST_CASE("a group of one cause is warned of where its name is nearly that of another") {
  const std::string two =
      "extend loose group hard_part\nextend worn group hard_part\n"
      "extend mend cures c\n";
  const std::string third = "cause c found in 1 of 9 jobs shows flare of 1-2 in 1 of 2 jobs group ";
  CHECK(with_sound(two + third + "hardpart") == "5:7 group-alone");
  CHECK(with_sound(two + third + "bodywork") == "");
  CHECK(with_sound(two + third + "hard_part") == "");
}

TEST_CASE("a cause is cured by something") {
  CHECK(with_sound("cause c found in 1 of 9 jobs shows flare of 1-2 in 1 of 2 jobs") ==
        "2:7 not-cured");
}

TEST_CASE("causes that nothing tells apart are warned of unless one repair cures both") {
  const std::string cause = "cause zz found in 1 of 9 jobs shows noise in 3 of 10 jobs\n";
  CHECK(with_sound(cause + "repair mend_too takes 1 h cures zz") == "15:7 cannot-be-told-apart");
  CHECK(with_sound(cause + "extend mend cures zz") == "");
  CHECK(with_sound(cause + "repair mend_too takes 1 h cures zz\n"
                           "check c takes 1 h flags zz in 8 of 10 bad, in 1 of 10 good") == "");
}

TEST_CASE("conditions that can never hold are found") {
  CHECK(meaning_of("pressure of element > 9 mbar and pressure of element < 900 Pa") ==
        "3:6 never-holds");
  CHECK(meaning_of("pressure of element > 9 mbar and pressure of element < 20 mbar") == "");
  CHECK(meaning_of("pressure of element > 9 mbar and pressure of K1 < 5 mbar") == "");
  CHECK(meaning_of("pressure of element between 9 mbar and 5 mbar") == "3:6 never-holds");
  CHECK(meaning_of("use is towing and use is private") == "3:6 never-holds");
  CHECK(meaning_of("noise and not noise") == "3:6 never-holds");
  CHECK(meaning_of("stored P0733 and not stored P0733") == "3:6 never-holds");
  CHECK(meaning_of("5 km > 6 km and noise") == "3:6 never-holds");
  CHECK(meaning_of("at least 5 other elements ( pressure of element > 9 mbar )") ==
        "3:6 never-holds");
}

TEST_CASE("conditions that always hold are found") {
  CHECK(meaning_of("pressure of element > 9 mbar or pressure of element < 20 mbar") ==
        "3:6 always-holds");
  CHECK(meaning_of("pressure of element > 20 mbar or pressure of element < 9 mbar") == "");
  CHECK(meaning_of("use is towing or use is private") == "3:6 always-holds");
  CHECK(meaning_of("use is towing or noise") == "");
  CHECK(meaning_of("noise or not noise") == "3:6 always-holds");
}

TEST_CASE("a selection without a member is found") {
  // The invented chart has no element that is used in no gear.
  CHECK(meaning_of("any shift applying B2 ( flare of shift )") == "3:6 empty-selection");
  CHECK(with_sound("extend loose shows flare of each shift applying B2 in 1 of 2 jobs") ==
        "2:29 empty-selection");
  CHECK(meaning_of("any shift applying element ( flare of shift )") == "");
}

TEST_CASE("in a file with trials every cause is tried") {
  CHECK(with_sound("trial \"t\" with noise expect loose first").find("not-tried") !=
        std::string::npos);
  CHECK(with_sound("trial \"t\" with noise expect loose before worn of K1") == "");
}
