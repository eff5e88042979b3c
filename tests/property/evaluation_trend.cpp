// What must hold of slopes, intervals and steps, whatever the series.
#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

#include <doctest/doctest.h>

#include "evaluation/slope_interval.h"
#include "evaluation/trend.h"

using slipcase::evaluation::find_step;
using slipcase::evaluation::line_offset;
using slipcase::evaluation::slope_interval;
using slipcase::evaluation::theil_sen_slope;
using slipcase::evaluation::TrendPoint;

namespace {

constexpr int rounds = 300;

std::vector<TrendPoint> random_series(std::mt19937& random, std::size_t least) {
  std::uniform_int_distribution<std::size_t> length(least, 14);
  std::uniform_int_distribution<int> step(0, 40);
  std::uniform_int_distribution<int> value(-300, 300);
  std::vector<TrendPoint> list(length(random));
  double odometer = 1000.0;
  for (TrendPoint& point : list) point = {odometer += step(random), 1.0 * value(random)};
  list.front().odometer -= 5.0;
  list.back().odometer += 5.0;  // never fewer than three different ones
  return list;
}

void check_near(double a, double b) { CHECK(a == doctest::Approx(b).epsilon(1e-9).scale(1.0)); }

TEST_CASE("a slope does not hang on where odometers and values count from, nor on the order") {
  std::mt19937 random(11);
  for (int i = 0; i < rounds; ++i) {
    const auto list = random_series(random, 3);
    const auto before = slope_interval(list);
    REQUIRE(before);
    auto moved = list;
    for (TrendPoint& point : moved) point = {point.odometer + 512.0, point.value - 77.0};
    std::ranges::shuffle(moved, random);
    const auto after = slope_interval(moved);
    REQUIRE(after);
    check_near(after->slope, before->slope);
    check_near(after->low, before->low);
    check_near(after->high, before->high);
    CHECK(after->confidence == before->confidence);
  }
}

TEST_CASE("units do not matter") {
  std::mt19937 random(12);
  for (int i = 0; i < rounds; ++i) {
    const auto list = random_series(random, 3);
    auto scaled = list;
    for (TrendPoint& point : scaled) point = {point.odometer * 4.0, point.value * -2.0};
    const auto before = slope_interval(list);
    const auto after = slope_interval(scaled);
    REQUIRE(before);
    REQUIRE(after);
    check_near(after->slope, before->slope * -0.5);
    check_near(after->low, before->high * -0.5);
    check_near(after->high, before->low * -0.5);
  }
}

TEST_CASE("the interval holds its slope, and a surer one holds the other") {
  std::mt19937 random(13);
  for (int i = 0; i < rounds; ++i) {
    const auto list = random_series(random, 3);
    const auto narrow = slope_interval(list, 0.5);
    const auto wide = slope_interval(list, 0.99);
    REQUIRE(narrow);
    REQUIRE(wide);
    CHECK(narrow->low <= narrow->slope);
    CHECK(narrow->slope <= narrow->high);
    CHECK(wide->low <= narrow->low);
    CHECK(narrow->high <= wide->high);
    CHECK(wide->confidence >= narrow->confidence);
  }
}

TEST_CASE("half of the points lie on either side of the line") {
  std::mt19937 random(14);
  for (int i = 0; i < rounds; ++i) {
    const auto list = random_series(random, 3);
    const double slope = *theil_sen_slope(list);
    const double offset = line_offset(list, slope);
    std::ptrdiff_t above = 0;
    std::ptrdiff_t below = 0;
    for (const TrendPoint& point : list) {
      const double rest = point.value - slope * point.odometer - offset;
      above += rest > 1e-9 ? 1 : 0;
      below += rest < -1e-9 ? 1 : 0;
    }
    CHECK(std::max(above, below) <= std::ssize(list) / 2);
  }
}

TEST_CASE("one wild reading does not own the slope") {
  std::mt19937 random(15);
  std::uniform_int_distribution<int> noise(-5, 5);
  for (int i = 0; i < rounds; ++i) {
    std::vector<TrendPoint> list;
    for (int v = 0; v < 8; ++v) list.push_back({1000.0 * v, 30.0 * v + noise(random)});
    std::uniform_int_distribution<std::size_t> any(0, list.size() - 1);
    list[any(random)].value += 100000.0;
    CHECK(*theil_sen_slope(list) == doctest::Approx(0.03).epsilon(0.25));
  }
}

TEST_CASE("the interval holds the true slope as often as it says") {
  // 4 of 1000: about two standard errors of a share of 0.95 in 4000 series.
  std::mt19937 random(16);
  std::normal_distribution<double> noise(0.0, 20.0);
  for (const int visits : {3, 5, 7, 10}) {
    int held = 0;
    double confidence = 0.0;
    constexpr int series = 4000;
    for (int i = 0; i < series; ++i) {
      std::vector<TrendPoint> list;
      for (int v = 0; v < visits; ++v) list.push_back({1.0 * v, 7.0 * v + noise(random)});
      const auto found = slope_interval(list);
      confidence = found->confidence;
      held += found->low <= 7.0 && 7.0 <= found->high ? 1 : 0;
    }
    CAPTURE(visits);
    const double share = 1.0 * held / series;
    CHECK(std::abs(share - confidence) < 3.0 * std::sqrt(confidence * (1 - confidence) / series));
  }
}

TEST_CASE("a step stands between two values, and turns over with them") {
  std::mt19937 random(17);
  for (int i = 0; i < rounds; ++i) {
    const auto list = random_series(random, 3);
    auto turned = list;
    for (TrendPoint& point : turned) point.value = -point.value;
    const auto step = find_step(list);
    const auto mirror = find_step(turned);
    REQUIRE(step.has_value() == mirror.has_value());
    if (!step) continue;
    CHECK(step->cut >= 1);
    CHECK(step->cut < list.size());
    CHECK(mirror->cut == step->cut);
    check_near(mirror->height(), -step->height());
  }
}

}  // namespace
