// Shapes of series that are made to have one. One reading scatters by 20 (mbar), so that two that
// differ by less than 2 sqrt(2) 20 = 56.6 count as the same; a value every 10000 km.
#include "book/judge.h"

#include <cmath>
#include <fstream>
#include <string>
#include <vector>

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

namespace slipcase::book {
namespace {

const Scatter scatter{20.0, 2.0 * std::sqrt(2.0) * 20.0};

std::vector<evaluation::TrendPoint> visits(const std::vector<double>& values) {
  std::vector<evaluation::TrendPoint> list;
  for (std::size_t i = 0; i < values.size(); ++i)
    list.push_back({10000.0 * static_cast<double>(i), values[i]});
  return list;
}

TrendShape shape(const std::vector<double>& values) { return judge(visits(values), scatter).shape; }

TEST_CASE("shapes") {
  CHECK(shape({}) == TrendShape::too_few);
  CHECK(shape({10}) == TrendShape::too_few);
  CHECK(shape({10, 300}) == TrendShape::too_few);
  CHECK(shape({10, 20, 30}) == TrendShape::flat);
  CHECK(shape({10, 50, 90}) == TrendShape::rising);
  CHECK(shape({-10, -50, -90}) == TrendShape::falling);
  CHECK(shape({0, 0, 0, 100, 100, 100}) == TrendShape::step);
  CHECK(shape({0, 5, 10, 40, 100, 170, 250}) == TrendShape::bending);
  CHECK(shape({0, 120, 10, 110, 0, 130, 20}) == TrendShape::disorder);
  CHECK(shape({5, 120, 10, 100, 0, 110, 20}) == TrendShape::disorder);
  CHECK(shape({0, 45, 90, 130, 90, 45, 0}) == TrendShape::unclear);
}

TEST_CASE("a rise that readings of one thing can show is no rise") {
  CHECK(shape({0, 28, 56}) == TrendShape::flat);
  CHECK(shape({0, 29, 58}) == TrendShape::rising);
}

TEST_CASE("three in a row have no sharp slope, however straight they stand") {
  const auto fitted = fit(visits({0, 50, 100}), scatter);
  REQUIRE(fitted);
  CHECK(fitted->pairs.low == doctest::Approx(fitted->pairs.high));
  CHECK(fitted->range.low == doctest::Approx(0.005 - scatter.least_difference / 20000.0));
  CHECK(fitted->range.high == doctest::Approx(0.005 + scatter.least_difference / 20000.0));
}

TEST_CASE("what bends back towards zero is not wear coming to its end") {
  CHECK(shape({-250, -245, -240, -210, -150, -80, 0}) == TrendShape::rising);
}

TEST_CASE("a quiet beginning does not hide what the newer half does") {
  const Judged judged = judge(visits({20, 30, 20, 120, 200, 280}), scatter);
  CHECK(judged.shape == TrendShape::bending);
  CHECK(judged.fit_from == 2);
  REQUIRE(judged.slope);
  CHECK(judged.slope->moved);
}

TEST_CASE("a rise over two visits in a row is a ramp and no jumps") {
  const Judged judged = judge(visits({20, 25, 20, 22, 140, 260}), scatter);
  CHECK(judged.steps.empty());
  CHECK(judged.shape == TrendShape::bending);
}

TEST_CASE("a step is as high as what lies between its neighbours and no higher") {
  const Judged alone = judge(visits({20, 25, 20, 60, 180}), scatter);
  REQUIRE(alone.steps.size() == 1);
  CHECK(alone.steps[0].height == 120.0);
  const Judged two = judge(visits({0, 0, 0, 100, 100, 100, 300, 300, 300}), scatter);
  REQUIRE(two.steps.size() == 2);
  CHECK(two.steps[1].height == 200.0);
}

TEST_CASE("values over less than the least distance have no slope") {
  const std::vector<evaluation::TrendPoint> list{{50000, 40}, {50010, 90}, {50020, 140}};
  const Judged judged = judge(list, {20.0, scatter.least_difference, 1500.0});
  CHECK(judged.shape == TrendShape::too_near);
  CHECK_FALSE(judged.slope);
  CHECK(judge(visits({40, 90, 140}), {20.0, scatter.least_difference, 1500.0}).slope);
}

TEST_CASE("a jump of the newest reading alone is told, and not yet believed") {
  const Judged judged = judge(visits({0, 10, 5, 200}), scatter);
  REQUIRE(judged.steps.size() == 1);
  CHECK(judged.steps[0].cut == 3);
  CHECK_FALSE(judged.steps[0].confirmed);
  CHECK_FALSE(judged.slope);
}

TEST_CASE("two jumps are both found, and the slope is of what came behind the last") {
  const Judged judged = judge(visits({0, 0, 0, 100, 100, 100, 300, 300, 300}), scatter);
  REQUIRE(judged.steps.size() == 2);
  CHECK(judged.steps[0].cut == 3);
  CHECK(judged.steps[0].height == doctest::Approx(100.0));
  CHECK(judged.steps[1].cut == 6);
  CHECK(judged.steps[1].confirmed);
  REQUIRE(judged.slope);
  CHECK(judged.slope->pairs.slope == 0.0);
}

TEST_CASE("a single wild reading in the middle is no step and no trend") {
  const Judged judged = judge(visits({0, 5, 400, 0, 10, 5, 10}), scatter);
  CHECK(judged.steps.empty());
  REQUIRE(judged.slope);
  CHECK_FALSE(judged.slope->moved);
}

TEST_CASE("a shift within the scatter of single readings is not told as a step") {
  // D. Montgomery, Introduction to Statistical Quality Control, tabular CUSUM example: one standard
  // deviation after the 20th of 30. A chart with a known target finds it; this does not look for so
  // little.
  std::ifstream file(std::string(SLIPCASE_TEST_DATA) + "/reference/trend_series.json");
  REQUIRE(file);
  const auto record = nlohmann::json::parse(file).at("small_shift");
  const auto sigma = record.at("sigma").get<double>();
  const auto list = visits(record.at("y").get<std::vector<double>>());
  CHECK(find_steps(list, 2.0 * std::sqrt(2.0) * sigma).empty());
}

}  // namespace
}  // namespace slipcase::book
