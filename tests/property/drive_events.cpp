// Drives put together at random, of manoeuvres that count and others that cannot: as many are
// counted as were meant to be, at any rate of the logger and with noise. All drives are made up.
#include <random>

#include <doctest/doctest.h>

#include "support/drive_reading.h"

using namespace slipcase;
using namespace slipcase::test;

namespace {

struct Expected {
  std::size_t upshifts = 0;
  std::size_t coast_downs = 0;
  std::size_t engagements = 0;
};

/// One round; what counts of it is added up.
void drive_round(DriveMaker& drive, std::mt19937_64& random, Expected& expected) {
  const bool warm = random() % 4 != 0;
  const bool light = random() % 3 != 0;
  const bool released = random() % 3 != 0;
  const bool held = random() % 3 != 0;
  drive.fluid = warm ? 70.0 + static_cast<double>(random() % 35) : 40.0;
  drive.upshifts(light ? 14.0 : 45.0);
  if (warm && light) ++expected.upshifts;
  drive.coast_down(held ? 6.0 : 2.0, released ? 0.0 : 9.0);
  if (warm && released && held) ++expected.coast_downs;
  if (random() % 2 == 0) return;
  drive.engage("R", 5.0);
  if (warm) ++expected.engagements;
  drive.engage("1", 1.0);  // too short to count, and the next round begins in 1
}

}  // namespace

TEST_CASE("as many manoeuvres are counted as were driven well") {
  std::mt19937_64 random(20310418);
  for (int i = 0; i < 60; ++i) {
    const double rate = (std::array{4.0, 10.0, 25.0})[random() % 3];
    DriveMaker drive(rate, random());
    Expected expected;
    const auto rounds = 1 + random() % 6;
    for (std::size_t n = 0; n < rounds; ++n) drive_round(drive, random, expected);
    const DriveCheck check = DriveReading(drive).check();
    CAPTURE(i);
    CAPTURE(rate);
    CHECK(check.manoeuvres.at(0).counted == expected.upshifts);
    CHECK(check.manoeuvres.at(1).counted == expected.coast_downs);
    CHECK(check.manoeuvres.at(2).counted == 0);
    CHECK(check.manoeuvres.at(3).counted == expected.engagements);
    const DriveCheck by_speeds = DriveReading(drive, false).check();
    CHECK(by_speeds.manoeuvres.at(0).counted == expected.upshifts);
    CHECK(by_speeds.manoeuvres.at(1).counted == expected.coast_downs);
  }
}
