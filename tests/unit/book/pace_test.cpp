// How fast the newest values leave zero, in shares of a limit of 300 mbar; one reading scatters by
// 20. The shares are common practice, no source. All series are invented.
#include "book/pace.h"

#include <cmath>
#include <vector>

#include <doctest/doctest.h>

namespace slipcase::book {
namespace {

const Scatter one_reading{20.0, 2.0 * std::sqrt(2.0) * 20.0, 1500.0};
const PaceLimits limits{-300.0, 300.0, one_reading.least_difference, 22500.0, 1500.0};

/// A value every `run` km.
Pace pace(const std::vector<double>& values, double run) {
  std::vector<evaluation::TrendPoint> list;
  for (std::size_t i = 0; i < values.size(); ++i)
    list.push_back({50000.0 + run * static_cast<double>(i), values[i]});
  return pace_of(list, judge(list, one_reading), limits);
}

TEST_CASE("more than a quarter of the limit from one routine visit to the next is fast") {
  CHECK(pace({20, 30, 20, 120, 200, 280}, 15000) == Pace::fast);
  CHECK(pace({20, 25, 20, 22, 140, 260}, 15000) == Pace::fast);
  CHECK(pace({120, 285}, 20000) == Pace::fast);
  CHECK(pace({10, 90}, 22500) == Pace::fast);
  CHECK(pace({-10, -90}, 22500) == Pace::fast);
  CHECK(pace({10, 80}, 22500) == Pace::watch);
  CHECK(pace({10, 80}, 15000) == Pace::fast);
}

TEST_CASE("twice running by more than a sixth is fast, and so is such a slope") {
  CHECK(pace({10, 65, 119}, 22500) == Pace::fast_twice);
  CHECK(pace({60, 110, 160, 170}, 20000) == Pace::watch);
  CHECK(pace({0, 60, 118, 176, 235, 240}, 22500) == Pace::steep);
}

TEST_CASE("a tenth of the limit per visit is to be watched") {
  CHECK(pace({10, 45, 80, 115}, 22500) == Pace::watch);
  CHECK(pace({0, 20, 40, 60, 80}, 22500) == Pace::slow);
}

TEST_CASE("what readings scatter, what comes back and what is near zero is slow") {
  CHECK(pace({}, 15000) == Pace::slow);
  CHECK(pace({200}, 15000) == Pace::slow);
  CHECK(pace({20, 75}, 15000) == Pace::slow);
  CHECK(pace({200, 80}, 15000) == Pace::slow);
  CHECK(pace({-40, 40}, 15000) == Pace::slow);
}

TEST_CASE("of values up and down only what leads beyond all before counts") {
  CHECK(pace({20, 120, 15, 130, 10, 125}, 15000) == Pace::slow);
  CHECK(pace({20, 120, 15, 130, 10, 235}, 15000) == Pace::fast);
}

TEST_CASE(
    "a second reading soon after is held against the visit before, and nothing is scaled up") {
  std::vector<evaluation::TrendPoint> list{{50000, 20}, {72500, 120}, {72510, 118}};
  CHECK(pace_of(list, judge(list, one_reading), limits) == Pace::fast);
  list = {{50000, 40}, {50010, 90}, {50020, 110}};
  CHECK(pace_of(list, judge(list, one_reading), limits) == Pace::watch);
}

TEST_CASE("how far the limit is at the newest pace") {
  std::vector<evaluation::TrendPoint> list{{50000, 200}, {65000, 280}};
  CHECK(*ahead_at_pace(list, limits) == doctest::Approx(3750.0));
  list = {{50000, -200}, {65000, -280}};
  CHECK(*ahead_at_pace(list, limits) == doctest::Approx(3750.0));
  list = {{50000, 280}, {65000, 200}};
  CHECK_FALSE(ahead_at_pace(list, limits));
  list = {{50000, 200}, {50010, 280}};
  CHECK_FALSE(ahead_at_pace(list, limits));
}

TEST_CASE("within the least believable difference of the limit") {
  CHECK(is_near_limit(290.0, limits));
  CHECK(is_near_limit(-244.0, limits));
  CHECK_FALSE(is_near_limit(243.0, limits));
  CHECK_FALSE(is_near_limit(300.0, limits));
}

}  // namespace
}  // namespace slipcase::book
