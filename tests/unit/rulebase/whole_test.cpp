#include <doctest/doctest.h>

#include "shop.h"

using namespace slipcase::test;

namespace {

std::vector<std::string> notes_of(std::string_view lines) {
  const Resolved resolved = resolve_text(std::string(lines) + std::string(shop));
  std::vector<std::string> notes;
  for (const auto& note : resolved.diagnostics.list().front().notes) notes.push_back(note.text);
  return notes;
}

}  // namespace

TEST_CASE("causes and insides that lead back to themselves are refused with the way round") {
  const char* lines =
      "cause a found in 1 of 9 jobs then causes b in 1 of 2 jobs\n"
      "cause b found in 1 of 9 jobs then causes a in 1 of 2 jobs\n";
  CHECK(with_shop(lines) == "2:30 goes-in-a-circle");
  CHECK(
      said_with_shop(lines).starts_with("this goes in a circle: `a` leads to `b` leads to `a`; "));
  CHECK(notes_of(lines) == std::vector<std::string>{"here `b` leads to `a`"});
}

TEST_CASE("one member may lead to another, but not back") {
  CHECK(with_shop("cause a of element found in 1 of 9 jobs shows level_low in 1 of 2 jobs\n"
                  "extend a of K1 then causes a of K2 in 1 of 2 jobs") == "");
  CHECK(with_shop("cause a of element found in 1 of 9 jobs\n"
                  "then causes a of each other element in 1 of 2 jobs") == "3:1 goes-in-a-circle");
  CHECK(with_shop("inside i otherwise in 1 of 9 jobs shows i in 1 of 2 jobs") ==
        "2:35 goes-in-a-circle");
}

TEST_CASE("findings that ask each other are refused at the question") {
  CHECK(with_shop("finding a when b\nfinding b when not a") == "2:16 goes-in-a-circle");
}

TEST_CASE("a distrust cannot ask what it sets aside, directly or through a finding") {
  CHECK(with_shop("distrust d when fill_time of K1 > 5 ms sets aside fill_time because \"x\"") ==
        "2:17 goes-in-a-circle");
  CHECK(with_shop("distrust d when as_read of fill_time of K1 > 5 ms sets aside fill_time\n"
                  "because \"x\"") == "");
  const std::string finding = "finding f when fill_time of K1 > 5 ms\n";
  CHECK(with_shop(finding + "distrust d when f sets aside fill_time because \"x\"")
            .find("goes-in-a-circle") != std::string::npos);
  CHECK(with_shop(finding + "distrust d when f sets aside fill_time except f because \"x\"") == "");
}

TEST_CASE("every circle is reported in one run") {
  CHECK(with_shop("cause a found in 1 of 9 jobs then causes a in 1 of 2 jobs\n"
                  "  then causes b in 1 of 2 jobs\n"
                  "cause b found in 1 of 9 jobs then causes c in 1 of 2 jobs\n"
                  "cause c found in 1 of 9 jobs then causes a in 1 of 2 jobs") ==
        "2:30 goes-in-a-circle; 3:3 goes-in-a-circle");
  CHECK(with_shop("distrust d when fill_time of K1 > 5 ms sets aside fill_time because \"x\"\n"
                  "distrust e when fill_pressure of K1 > 5 bar sets aside fill_pressure\n"
                  "because \"x\"") == "2:17 goes-in-a-circle; 3:17 goes-in-a-circle");
  // Both distrusts wait for each other and each for itself.
  CHECK(
      with_shop("distrust d when fill_time of K1 > 5 ms sets aside fill_time, fill_pressure\n"
                "because \"x\"\n"
                "distrust e when fill_pressure of K1 > 5 bar sets aside fill_pressure, fill_time\n"
                "because \"x\"")
          .find("4:17 goes-in-a-circle") != std::string::npos);
}

TEST_CASE("work that waits for itself can never be begun") {
  CHECK(with_shop("repair r takes 1 h cures regulator_worn only after r2\n"
                  "repair r2 takes 1 h cures regulator_worn only after r") ==
        "2:8 goes-in-a-circle");
  CHECK(said_with_shop("repair r takes 1 h cures regulator_worn only after r2\n"
                       "repair r2 takes 1 h cures regulator_worn only after r")
            .starts_with("this goes in a circle: `r` comes only after `r2` comes only after `r`"));
  CHECK(with_shop("repair r takes 1 h cures regulator_worn follow with c\n"
                  "check c takes 1 h answers level_low follow with r") == "3:7 goes-in-a-circle");
  CHECK(with_shop("repair r of element takes 1 h cures lining_worn of element\n"
                  "only after r of each other element")
            .starts_with("2:8 goes-in-a-circle"));
  CHECK(with_shop("repair r takes 1 h cures regulator_worn only after r") ==
        "2:8 goes-in-a-circle");
}

TEST_CASE("a job may begin and end with the same check") {
  CHECK(with_shop("repair r takes 1 h cures regulator_worn only after look follow with look") ==
        "");
}

TEST_CASE("events and access must not go in a circle") {
  CHECK(with_shop("event a counts as b\nevent b counts as a") == "2:7 goes-in-a-circle");
  CHECK(with_shop("access a takes 1 h needs b\naccess b takes 1 h needs a") ==
        "2:8 goes-in-a-circle");
}

TEST_CASE("an event counts as what the other counts as") {
  const auto resolved = resolve_text("event a counts as b\nevent b counts as c\nevent c");
  REQUIRE(resolved.rules.has_value());
  CHECK(resolved.rules->events.front().counts_as.size() == 2);
}

TEST_CASE("an event of one scope cannot count as one of another") {
  CHECK(with_shop("event a of shift counts as drum_rebuilt") == "2:28 wrong-scope");
  CHECK(with_shop("event a counts as drum_rebuilt") == "");
}

TEST_CASE("two lines of one cause that reach the same thing are refused for the first member") {
  const char* lines =
      "cause a of element found in 1 of 9 jobs\n"
      "shows flare of each shift applying element in 1 of 2 jobs\n"
      "shows flare of 2-3 in 1 of 3 jobs\n";
  CHECK(with_shop(lines) == "4:1 reached-twice");
  // K2 is the one that the invented chart applies for 2-3.
  CHECK(said_with_shop(lines) ==
        "`a of K2` leads to `flare of 2-3` twice, by this line and another; it would count double");
}

TEST_CASE("lines that reach different members of one thing are fine") {
  CHECK(with_shop("cause a found in 1 of 9 jobs shows flare of 1-2 in 1 of 2 jobs\n"
                  "shows flare of 2-3 in 1 of 3 jobs") == "");
}

TEST_CASE("a check flags and a repair cures a cause once") {
  CHECK(with_shop("check c takes 1 h flags regulator_worn in 8 of 10 bad, in 1 of 10 good\n"
                  "flags regulator_worn in 7 of 10 bad, in 1 of 10 good") == "3:1 reached-twice");
  CHECK(with_shop("repair r takes 1 h cures lining_worn of each element, lining_worn of K1") ==
        "2:8 reached-twice");
}

TEST_CASE("a multiplier cannot ask what causes show") {
  const auto becomes = [](const std::string& condition) {
    return with_shop("cause a found in 1 of 9 jobs becomes 2 times as likely when " + condition +
                     "\nshows harsh of 1-2 in 1 of 2 jobs");
  };
  CHECK(becomes("use is towing and happened values_cleared and odometer > 5 km") == "");
  CHECK(becomes("high_limit of fill_pressure of K1 > 5 mbar") == "");
  CHECK(becomes("level_low") == "2:61 counts-it-twice");
  CHECK(becomes("air_check of K1") == "2:61 counts-it-twice");
  CHECK(becomes("fill_time of K1 > 5 ms") == "2:61 counts-it-twice");
  CHECK(becomes("stored P0733") == "2:61 counts-it-twice");
  CHECK(becomes("ratio_error of 2 > 50 rpm") == "2:61 counts-it-twice");
  CHECK(becomes("hidden\nfinding hidden when not level_low").find("2:61 counts-it-twice") == 0);
}

TEST_CASE("never and possible only cannot either, and say what shows it") {
  CHECK(with_shop("cause a found in 1 of 9 jobs never when level_low\n"
                  "shows harsh of 1-2 in 1 of 2 jobs") == "2:41 counts-it-twice");
  const char* lines =
      "cause a found in 1 of 9 jobs possible only when level_low\n"
      "shows harsh of 1-2 in 1 of 2 jobs";
  CHECK(with_shop(lines) == "2:49 counts-it-twice");
  CHECK(notes_of(lines) == std::vector<std::string>{"it is shown by this line"});
}

TEST_CASE("a distrust leaves something to judge") {
  CHECK(with_shop("distrust d when tuned sets aside fill_time, fill_pressure because \"x\"\n"
                  "not judged group hard_part, regulator_worn") == "2:10 distrust-all");
  CHECK(with_shop("distrust d when tuned not judged group hard_part because \"x\"") == "");
}

TEST_CASE("a group in a distrust is named as one") {
  CHECK(with_shop("distrust d when tuned not judged hard_part because \"x\"") == "2:34 wrong-kind");
}

TEST_CASE("a distrust knows whether it can be asked of each snapshot's own day") {
  const auto asked = [](const std::string& condition) {
    const auto resolved = resolve_text("distrust d when " + condition +
                                       " sets aside fill_time because \"x\"" + std::string(shop));
    REQUIRE(resolved.rules.has_value());
    return resolved.rules->distrusts.front().asked_per_snapshot;
  };
  CHECK(asked("happened values_cleared"));
  CHECK(asked("fluid_temperature < 30 °C"));
  CHECK_FALSE(asked("tuned"));
  CHECK_FALSE(asked("level_low"));
}
