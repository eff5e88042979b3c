// What counts on a logged drive. All drives are made up.
#include <algorithm>
#include <sstream>
#include <string>

#include <doctest/doctest.h>

#include "support/drive_reading.h"

using namespace slipcase;
using namespace slipcase::test;

namespace {

std::size_t not_counted(const std::vector<NotCountedTimes>& list, NotCounted why) {
  const auto found = std::ranges::find(list, why, &NotCountedTimes::why);
  return found == list.end() ? 0 : found->times;
}

std::size_t times_of(const DriveCheck& check, std::string_view manoeuvre, NotCounted why) {
  const auto found = std::ranges::find(check.manoeuvres, manoeuvre, &ManoeuvreTimes::name);
  REQUIRE(found != check.manoeuvres.end());
  return not_counted(found->not_counted, why);
}

bool has_sign(const DriveCheck& check, DriveSign sign) {
  return std::ranges::find(check.signs, sign) != check.signs.end();
}

constexpr const char* two_rounds =
    "light_upshifts 2 coast_down 2 engage_drive 2 engage_reverse 2 steady_cruise 1";

}  // namespace

TEST_CASE("the whole procedure is complete, with a column for the gear") {
  DriveMaker drive;
  drive.whole_procedure();
  const DriveCheck check = DriveReading(drive).check();
  CHECK(manoeuvre_counts_of(check) ==
        "light_upshifts 9 coast_down 8 engage_drive 8 engage_reverse 8 steady_cruise 1");
  CHECK(element_counts(check) == "K1 16 K2 42 K3 9 B1 26 B2 8");
  CHECK(check.complete);
  CHECK(check.gaps.empty());
  CHECK_FALSE(check.gear_from_speeds);
}

TEST_CASE("a drive is read alike at any rate of the logger and without noise") {
  for (const double rate : {3.0, 10.0, 50.0, 100.0}) {
    for (const double noise : {0.0, 1.0}) {
      DriveMaker drive(rate);
      drive.noise = noise;
      drive.whole_procedure(2);
      CAPTURE(rate);
      CHECK(element_counts(DriveReading(drive).check()) == "K1 4 K2 12 K3 3 B1 8 B2 2");
    }
  }
}

TEST_CASE(
    "without a column the gear comes from the speeds, engagements only where it can be told") {
  DriveMaker drive;
  drive.upshifts();
  drive.coast_down();
  drive.engage("1");
  drive.upshifts();
  drive.coast_down();
  const DriveCheck check = DriveReading(drive, false).check();
  CHECK(check.gear_from_speeds);
  CHECK(manoeuvre_counts_of(check) ==
        "light_upshifts 2 coast_down 2 engage_drive 1 engage_reverse 0 steady_cruise 0");
  DriveMaker standing;
  standing.upshifts();
  standing.coast_down();
  for (const char* gear : {"R", "1", "R"}) standing.engage(gear);
  const DriveCheck open = DriveReading(standing, false).check();
  CHECK(open.open_engagements == 3);
  CHECK(open.manoeuvres.at(3).counted == 0);
}

TEST_CASE("what is shifted outside of the fluid's window does not count") {
  DriveMaker drive;
  drive.fluid = 50.0;
  drive.upshifts();
  drive.coast_down();
  drive.fluid = 85.0;
  drive.upshifts();
  drive.coast_down();
  drive.fluid = 115.0;
  drive.upshifts();
  const DriveCheck check = DriveReading(drive).check();
  CHECK(check.manoeuvres.at(0).counted == 1);
  CHECK(times_of(check, "light_upshifts", NotCounted::too_cold) == 1);
  CHECK(times_of(check, "light_upshifts", NotCounted::too_hot) == 1);
  CHECK(not_counted(check.elements.at(2).not_counted, NotCounted::too_cold) == 1);
  CHECK(check.manoeuvres.at(0).not_counted.at(0).first_line > 1);
}

TEST_CASE("too much pedal, a pedal that moves and a stop that is too short are told apart") {
  DriveMaker drive;
  drive.upshifts(40.0);
  drive.coast_down(2.0);
  drive.upshifts(14.0);
  // The foot moves in the first shift of the third run.
  drive.coast_down();
  const std::size_t begin = drive.rows().size();
  drive.upshifts(12.0);
  for (std::size_t i = begin + 38; i < begin + 42; ++i) drive.rows()[i].pedal = 19.0;
  const DriveCheck check = DriveReading(drive).check();
  CHECK(check.manoeuvres.at(0).counted == 1);
  CHECK(times_of(check, "light_upshifts", NotCounted::too_much_pedal) == 1);
  CHECK(times_of(check, "light_upshifts", NotCounted::pedal_moved) == 1);
  CHECK(check.manoeuvres.at(1).counted == 1);
  CHECK(times_of(check, "coast_down", NotCounted::hold_too_short) == 1);
  // The shift 2-1 of a stop that is too short teaches B2 nothing; the ones before it count.
  CHECK(not_counted(check.elements.at(4).not_counted, NotCounted::hold_too_short) == 1);
}

TEST_CASE("a controller may leave out gears of a path") {
  DriveMaker drive;
  drive.upshifts();
  for (const auto& [gear, speed] :
       {std::pair{"6", 70.0}, std::pair{"4", 40.0}, std::pair{"2", 12.0}, std::pair{"1", 0.0}})
    drive.go(gear, 4.0, speed, 0.0);
  drive.stand("1", 6.0);
  const DriveCheck check = DriveReading(drive).check();
  CHECK(check.manoeuvres.at(1).counted == 1);
  CHECK(element_counts(check) == "K1 1 K2 2 K3 1 B1 3 B2 1");
}

TEST_CASE("a path that turns back does not count, its good shifts do") {
  DriveMaker drive;
  drive.upshifts();
  drive.go("6", 4.0, 80.0, 0.0);
  drive.go("5", 4.0, 60.0, 0.0);
  drive.go("6", 4.0, 80.0, 14.0);
  const DriveCheck check = DriveReading(drive).check();
  CHECK(check.manoeuvres.at(1).counted == 0);
  CHECK(element_counts(check) == "K1 0 K2 3 K3 1 B1 2 B2 0");
}

TEST_CASE("noise on the gear makes no shift") {
  DriveMaker drive;
  drive.upshifts();
  for (std::size_t i = 20; i < drive.rows().size(); i += 7) drive.rows()[i].gear = "R";
  CHECK(element_counts(DriveReading(drive).check()) == "K1 0 K2 2 K3 1 B1 2 B2 0");
}

TEST_CASE("a gap in the log spoils what lies in it and nothing else") {
  DriveMaker drive;
  drive.upshifts();
  drive.coast_down();
  drive.go("1", 4.0, 15.0, 14.0);
  drive.pause(1.5);
  drive.go("2", 4.0, 30.0, 14.0);
  const DriveCheck check = DriveReading(drive).check();
  REQUIRE(check.gaps.size() == 1);
  CHECK(check.gaps[0].to - check.gaps[0].from == doctest::Approx(1.6));
  CHECK(check.manoeuvres.at(0).counted == 1);
  CHECK(not_counted(check.elements.at(3).not_counted, NotCounted::log_gap) == 1);
}

TEST_CASE("drives that were none give themselves away") {
  DriveMaker cold;
  cold.fluid = 52.0;
  cold.whole_procedure();
  const DriveCheck check_cold = DriveReading(cold).check();
  CHECK(has_sign(check_cold, DriveSign::never_warm));
  CHECK_FALSE(has_sign(check_cold, DriveSign::no_stop));
  CHECK(element_counts(check_cold) == "K1 0 K2 0 K3 0 B1 0 B2 0");

  DriveMaker motorway;
  motorway.upshifts();
  motorway.go("6", 1200.0, 110.0, 20.0);
  const DriveCheck check_motorway = DriveReading(motorway).check();
  CHECK(has_sign(check_motorway, DriveSign::top_gears_only));
  CHECK(has_sign(check_motorway, DriveSign::no_stop));
  CHECK(has_sign(check_motorway, DriveSign::short_drive));
  CHECK_FALSE(check_motorway.complete);

  DriveMaker parked;
  parked.stand("N", 60.0);
  CHECK(has_sign(DriveReading(parked).check(), DriveSign::no_shifts));
  DriveMaker slow(1.0);
  slow.upshifts();
  CHECK(has_sign(DriveReading(slow).check(), DriveSign::slow_log));

  DriveMaker hot;
  hot.fluid = 120.0;
  hot.upshifts();
  CHECK(has_sign(DriveReading(hot).check(), DriveSign::never_in_window));
  DriveMaker late;
  late.fluid = 50.0;
  late.go("3", 100.0, 50.0, 14.0);
  late.fluid = 85.0;
  late.upshifts();
  CHECK(has_sign(DriveReading(late).check(), DriveSign::mostly_outside));
}

TEST_CASE("a short round has everything that the long one has, fewer times") {
  DriveMaker drive;
  drive.whole_procedure(2);
  const DriveCheck check = DriveReading(drive).check();
  CHECK(manoeuvre_counts_of(check).substr(16) == std::string(two_rounds).substr(16));
  CHECK(check.manoeuvres.at(0).counted == 3);  // with the one into the cruise
  CHECK_FALSE(check.complete);
  CHECK(check.manoeuvres.at(1).missing() == 6);
}

TEST_CASE("what is driven while the fluid is not in the log does not count") {
  DriveMaker drive;
  drive.upshifts();
  drive.coast_down();
  const double until = drive.rows().back().time;
  drive.upshifts();
  drive.coast_down();
  // Once more than five seconds are empty.
  std::string csv;
  std::istringstream lines(drive.csv());
  std::size_t row = 0;
  for (std::string line; std::getline(lines, line); ++row) {
    const bool empty = row > 0 && drive.rows()[row - 1].time > until;
    csv += (empty ? line.substr(0, line.rfind(';') + 1) : line) + "\n";
  }
  const DriveCheck check = DriveReading(csv).check();
  CHECK(manoeuvre_counts_of(check).starts_with("light_upshifts 1 coast_down 1 "));
  CHECK(times_of(check, "light_upshifts", NotCounted::fluid_not_logged) == 1);
  CHECK(times_of(check, "coast_down", NotCounted::fluid_not_logged) == 1);
  CHECK(has_sign(check, DriveSign::fluid_gaps));
  CHECK(check.fluid_unknown > 10.0);
  CHECK(check.fluid_seen.high < 90.0);
}

TEST_CASE("a log of one row a second cannot show a complete drive, whatever is counted") {
  DriveMaker drive(1.0);
  drive.noise = 0.0;
  drive.whole_procedure(12);
  const DriveCheck check = DriveReading(drive).check();
  CHECK(check.counts_reached);
  CHECK_FALSE(check.complete);
  CHECK(has_sign(check, DriveSign::slow_log));
}

TEST_CASE("columns mapped in a wrong unit give themselves away") {
  DriveMaker drive;
  drive.whole_procedure();
  DriveMaker in_milliseconds = drive;
  for (DriveRow& row : in_milliseconds.rows()) row.time *= 1000.0;
  CHECK(has_sign(DriveReading(in_milliseconds).check(), DriveSign::lasts_days));
  DriveMaker as_share = drive;
  for (DriveRow& row : as_share.rows()) row.pedal /= 100.0;
  CHECK(has_sign(DriveReading(as_share).check(), DriveSign::pedal_asleep));
  DriveMaker in_fahrenheit = drive;
  for (DriveRow& row : in_fahrenheit.rows()) row.fluid = row.fluid * 1.8 + 32.0;
  CHECK(has_sign(DriveReading(in_fahrenheit).check(), DriveSign::fluid_deadly));
  CHECK(std::ranges::none_of(DriveReading(drive).check().signs, rules_out));
}
