// The learning drive in words: what golden cases are too long for. Numbers are made up.
#include <array>

#include <doctest/doctest.h>

#include "report/drive_words.h"
#include "slipcase/report.h"

using namespace slipcase;

namespace {

bool says_so(const std::string& text, std::string_view part) {
  return text.find(part) != std::string::npos;
}

DriveCheck some_check() {
  DriveCheck check;
  check.title = "Drive";
  check.unit_title = "Unit";
  check.log = "log.csv";
  check.duration = 4000.0;
  check.in_window = 1000.0;
  check.driven = 3600.0;
  check.in_top_gears = 3500.0;
  check.takes = 9000.0;
  check.needed_stop = 5.0;
  check.fluid_seen = {41.0, 63.5};
  check.fluid = DriveRange{65.0, 110.0};
  return check;
}

}  // namespace

TEST_CASE("a complete drive says what goes onto the card") {
  DriveCheck check = some_check();
  check.complete = true;
  check.elements = {{"K1", 8, 8, {}}};
  check.record = DriveRecord{"repairs", "learning_drive", {}};
  CHECK(says_so(to_text(check), "counts as complete"));
  CHECK(says_so(to_text(check), "- { done: learning_drive, date: ... }"));
  CHECK(says_so(to_json(check), "\"complete\": true"));
  CHECK(says_so(to_json(check), "\"done\": \"learning_drive\""));
}

TEST_CASE("a profile without procedures says what to do") {
  const NoProcedure none{"six_speed", "", {}};
  CHECK(says_so(to_text(none), "has no `procedures`"));
  CHECK(says_so(to_json(none), "\"asked\": null"));
}

TEST_CASE("every sign is a sentence, and has a name of its own in JSON") {
  const std::array signs{DriveSign::never_warm,     DriveSign::never_in_window,
                         DriveSign::mostly_outside, DriveSign::no_stop,
                         DriveSign::top_gears_only, DriveSign::short_drive,
                         DriveSign::no_shifts,      DriveSign::slow_log,
                         DriveSign::values_zero,    DriveSign::fluid_gaps};
  DriveCheck check = some_check();
  for (const DriveSign sign : signs) {
    const std::string sentence = report::sign_says(sign, check);
    CAPTURE(sentence);
    CHECK(sentence.ends_with('.'));
    check.signs = {sign};
    CHECK(says_so(to_json(check), "\"" + std::string(report::sign_word(sign)) + "\""));
  }
  CHECK(report::sign_says(DriveSign::never_warm, check) ==
        "The fluid stayed below 65 to 110 °C all the way (41 to 63.5 °C): nothing was learned.");
  CHECK(report::sign_says(DriveSign::no_stop, check) ==
        "There is no stop that was held in gear; 5 s each are asked for.");
  check.longest_stop = 3.0;
  CHECK(report::sign_says(DriveSign::no_stop, check) ==
        "No stop was held in gear for 5 s; the longest took 3 s.");
}

TEST_CASE("where a value is heading is said with what scatter allows") {
  MovingValue value;
  value.heading = Heading::moving;
  CHECK(report::heading_says(value) == "still moving; where it ends cannot be said yet");
  value.estimate = 1.0;
  value.estimate_says = "about 240 mbar, at least 190 mbar";
  CHECK(report::heading_says(value) ==
        "still moving, heading for about 240 mbar, at least 190 mbar");
  value.heading = Heading::to_limit;
  CHECK(says_so(report::heading_says(value), "at the limit or beyond"));
  for (const Heading heading :
       {Heading::too_few, Heading::at_zero, Heading::not_moving, Heading::settled, Heading::zigzag,
        Heading::not_learned, Heading::not_yet}) {
    value.heading = heading;
    CHECK(report::heading_says(value) != "");
    CHECK(report::heading_word(heading) != "");
  }
}

TEST_CASE("what is asked of a mapping is a question, and rules the drive out") {
  DriveCheck check = some_check();
  check.counts_reached = true;
  check.duration = 2.5e6;
  check.pedal_seen = 0.0025;
  for (const DriveSign sign :
       {DriveSign::lasts_days, DriveSign::pedal_asleep, DriveSign::fluid_deadly}) {
    const std::string sentence = report::sign_says(sign, check);
    CAPTURE(sentence);
    CHECK(sentence.ends_with('?'));
    CHECK(rules_out(sign));
    check.signs = {sign};
    CHECK(says_so(to_text(check), "cannot count as complete"));
    CHECK(says_so(to_json(check), "\"" + std::string(report::sign_word(sign)) + "\""));
  }
  CHECK(report::sign_says(DriveSign::lasts_days, check) ==
        "By the log the drive took 29 days. Is time in ms, and the mapping says s?");
}

TEST_CASE("a complete drive says what the card does not prove, what it contradicts first") {
  DriveCheck check = some_check();
  check.complete = true;
  check.before = {{"level", "Fluid level right", Proof::missing, "no check", {}},
                  {"codes_cleared", "Codes cleared", Proof::proven, "none", {}}};
  CHECK(says_so(to_text(check), "The card does not prove all"));
  CHECK(says_so(to_text(check), " [ ] Fluid level right: no check"));
  CHECK_FALSE(says_so(to_text(check), "Codes cleared: none"));
  check.before[1].proof = Proof::contradicted;
  const std::string text = to_text(check);
  CHECK(check.is_contradicted());
  CHECK(says_so(text, "[!] Codes cleared: none\n [ ] Fluid level right"));
}

TEST_CASE("values that were not used stand beside those that were") {
  MovingValue value;
  value.kind = "fill_pressure";
  value.member = "K3";
  value.values = {"60 mbar"};
  value.not_used = {"50 mbar: Values read with cold fluid"};
  DriveCheck check = some_check();
  check.moving.cleared_at = "2031-04-17";
  check.moving.values = {value};
  CHECK(says_so(to_text(check), "fewer than two readings that can be used"));
  CHECK(says_so(to_text(check), "not used: 50 mbar"));
  check.moving.values[0].heading = Heading::not_yet;
  check.moving.values[0].because = "nobody drove";
  CHECK(report::heading_says(check.moving.values[0]).ends_with("told yet: nobody drove"));
}

TEST_CASE("times are said in the unit that suits them") {
  CHECK(report::time_says(4.5) == "4.5 s");
  CHECK(report::time_says(90.0) == "90 s");
  CHECK(report::time_says(150.0) == "3 minutes");
  CHECK(report::time_says(3340.0) == "56 minutes");
  CHECK(report::time_says(7200.0) == "2 h 0 minutes");
}

TEST_CASE("a log with gaps, a gear from speeds and engagements left open says so") {
  DriveCheck check = some_check();
  check.gear_from_speeds = true;
  check.open_engagements = 2;
  check.gaps = {{10.0, 14.5, 33}};
  check.elements = {{"K1", 1, 0, {{NotCounted::not_in_procedure, 3, 1.0, 7}}}};
  check.manoeuvres = {{"up", "Up.", 1, 2, {}}};
  check.moving.cleared_at = "2031-04-17";
  check.moving.ordered = false;
  const std::string text = to_text(check);
  CHECK(says_so(text, "worked out from turbine and output speed"));
  CHECK(says_so(text, "Not counted: 2 engagements at standstill"));
  CHECK(says_so(text, "gap of 4.5 s at 10 s (line 33)"));
  CHECK(says_so(text, "1, no manoeuvre teaches it; not counted: 3 in no manoeuvre"));
  CHECK(says_so(text, "The drive is not complete. Still to be driven, with how often: up (1)."));
  CHECK(says_so(text, "leaves open which reading came first"));
}
