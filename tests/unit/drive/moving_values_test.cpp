// Whether values still move and where they are heading.
#include "drive/moving_values.h"

#include <doctest/doctest.h>

using namespace slipcase;
using drive::Between;
using drive::course_of;
using drive::Driven;
using drive::NotYet;
using drive::ValueCourse;
using drive::ValuePoint;

namespace {

/// The shipped fill pressure, in mbar for the eye: scatter 20, limits 300.
profile::ReadingBounds fill_pressure() {
  profile::ReadingBounds bounds;
  bounds.low_limit = -300.0;
  bounds.high_limit = 300.0;
  bounds.scatter = 20.0;
  return bounds;
}

ValueCourse course(std::initializer_list<double> read, const Between& between = {}) {
  std::vector<ValuePoint> points{{0.0, false}};
  for (const double value : read) points.push_back({value, true});
  return course_of(points, fill_pressure(), between);
}

}  // namespace

TEST_CASE("one reading says nothing of movement") {
  CHECK(course({}).heading == Heading::too_few);
  CHECK(course({150}).heading == Heading::too_few);
}

TEST_CASE("a movement within scatter is none") {
  CHECK(course({150, 160}).heading == Heading::settled);
  CHECK(course({150, 141}).heading == Heading::settled);
  CHECK(course({20, 30}).heading == Heading::not_moving);
  CHECK(course({0, 0}).heading == Heading::at_zero);
  CHECK_FALSE(course({150, 160}).estimate);
}

TEST_CASE("a step that scatter could make, but a settled value would not, leaves it open") {
  for (const auto& open :
       {course({150, 190}), course({150, 110}), course({40, 75, 100}), course({20, 40})}) {
    CHECK(open.heading == Heading::not_yet);
    CHECK(open.why == NotYet::creeping);
  }
}

TEST_CASE("nothing is settled that was not driven between its readings") {
  const ValueCourse undriven = course({60, 60}, {true, Driven::no, Driven::yes});
  CHECK(undriven.heading == Heading::not_yet);
  CHECK(undriven.why == NotYet::not_driven);
  const ValueCourse unknown = course({60, 60}, {true, Driven::unknown, Driven::unknown});
  CHECK(unknown.heading == Heading::not_yet);
  CHECK(unknown.why == NotYet::driving_unknown);
  CHECK(course({10, 10}, {true, Driven::no, Driven::yes}).heading == Heading::not_yet);
  // Zeros behind a clearing tell only once somebody drove.
  CHECK(course({0, 0}, {true, Driven::no, Driven::no}).heading == Heading::not_yet);
  CHECK(course({0, 0}, {true, Driven::unknown, Driven::unknown}).heading == Heading::at_zero);
}

TEST_CASE("a value that approaches is heading for the end of its steps") {
  // A need of 200 mbar of which a quarter is left after each stretch: 150, 187.5, ...; of 240 with
  // half left: 120, 180, 210.
  const ValueCourse half = course({120, 180});
  CHECK(half.heading == Heading::moving);
  REQUIRE(half.estimate);
  CHECK(*half.estimate == doctest::Approx(240.0));
  REQUIRE(half.low);
  CHECK(*half.low < 240.0);
  CHECK_FALSE(half.high);  // within scatter the steps need not shrink
}

TEST_CASE("where each event takes the same share of the error, its end is found again") {
  // Each event takes a share g of the error: 200 (1 - (1-g)^n). After 2 and 4 events with g = 0.4:
  // 128 and 174.08; the extrapolation from zero gives 200 again.
  const ValueCourse from_zero = course({128.0, 174.08});
  CHECK(from_zero.heading == Heading::not_yet);  // the step of 46 is within scatter
  const ValueCourse exact = [] {
    profile::ReadingBounds bounds = fill_pressure();
    bounds.scatter = 1.0;
    const std::vector<ValuePoint> points{{0.0, false}, {128.0, true}, {174.08, true}};
    return course_of(points, bounds, Between{});
  }();
  REQUIRE(exact.estimate);
  CHECK(*exact.estimate == doctest::Approx(200.0));
  CHECK(*exact.low > 190.0);
  REQUIRE(exact.high);
  CHECK(*exact.high < 210.0);
}

TEST_CASE("steps that do not shrink have no end to be seen") {
  const ValueCourse steady = course({70, 140});
  CHECK(steady.heading == Heading::moving);
  CHECK_FALSE(steady.estimate);
  CHECK_FALSE(course({120, 180}, {false, Driven::yes, Driven::yes}).estimate);
}

TEST_CASE("a value at its limit, or heading there, says so") {
  CHECK(course({180, 280}).heading == Heading::to_limit);
  CHECK(*course({180, 280}).estimate == doctest::Approx(405.0));
  CHECK(course({300, 300}).heading == Heading::to_limit);
  CHECK(course({-180, -280}).heading == Heading::to_limit);
}

TEST_CASE("forth and back by more than scatter is no learning") {
  CHECK(course({150, 40, 160}).heading == Heading::zigzag);
  CHECK(course({150, 100, 160}).heading == Heading::moving);
  CHECK(course({20, -10, 20, -10}).heading == Heading::not_moving);
}
