#include "evaluation/trend.h"

#include <fstream>
#include <string>
#include <vector>

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

using slipcase::evaluation::find_step;
using slipcase::evaluation::step_height;
using slipcase::evaluation::theil_sen_slope;
using slipcase::evaluation::TrendPoint;

namespace {

// Every thousand kilometres one value.
std::vector<TrendPoint> over_distance(const std::vector<double>& values) {
  std::vector<TrendPoint> points;
  for (std::size_t i = 0; i < values.size(); ++i) {
    points.push_back({1000.0 * static_cast<double>(i), values[i]});
  }
  return points;
}

}  // namespace

TEST_SUITE("trend") {
  TEST_CASE("slopes are those of three published and computed examples") {
    // Sources beside each example in the file (P. K. Sen 1968, from memory there; Hollander and
    // Wolfe 1973; one computed by two programs).
    std::ifstream file(std::string(SLIPCASE_TEST_DATA) + "/reference/trend_slopes.json");
    REQUIRE(file);
    const auto records = nlohmann::json::parse(file).at("records");
    REQUIRE(records.size() == 3);
    for (const auto& record : records) {
      std::vector<TrendPoint> points;
      for (std::size_t i = 0; i < record.at("x").size(); ++i) {
        points.push_back({record["x"][i].get<double>(), record["y"][i].get<double>()});
      }
      CAPTURE(record.at("id").get<std::string>());
      const auto slope = theil_sen_slope(points);
      REQUIRE(slope);
      CHECK(*slope == doctest::Approx(record.at("slope").get<double>()).epsilon(1e-12));
    }
  }
  TEST_CASE("one wild reading does not turn the slope") {
    CHECK(*theil_sen_slope(over_distance({0, 10, 20, 500, 40, 50, 60})) == doctest::Approx(0.01));
  }
  TEST_CASE("two odometers are no trend, however many readings there are") {
    CHECK_FALSE(theil_sen_slope(std::vector<TrendPoint>{{0, 1}, {0, 2}, {5, 3}, {5, 4}}));
    CHECK(theil_sen_slope(std::vector<TrendPoint>{{0, 1}, {0, 2}, {5, 3}, {9, 4}}));
  }
  TEST_CASE("a step is the difference of the medians on its two sides") {
    CHECK(*step_height(over_distance({10, 12, 11, 91, 90, 92})) == doctest::Approx(80.0));
    CHECK(*step_height(over_distance({90, 92, 91, 11, 10, 12})) == doctest::Approx(-80.0));
  }
  TEST_CASE("a ramp is no step") {
    CHECK(*step_height(over_distance({0, 20, 40, 60, 80, 100})) == 0.0);
    CHECK(*step_height(over_distance({0, 22, 38, 61, 79, 102})) == 0.0);
  }
  TEST_CASE("a change point is found where it was published") {
    // G. Cobb, Biometrika 65 (1978) 243-251: the Nile after 1898; see the file.
    std::ifstream file(std::string(SLIPCASE_TEST_DATA) + "/reference/trend_series.json");
    REQUIRE(file);
    const auto nile = nlohmann::json::parse(file).at("change_points").at(0);
    const auto step = find_step(over_distance(nile.at("y").get<std::vector<double>>()));
    REQUIRE(step);
    CHECK(step->cut == nile.at("last_before").get<std::size_t>());
    CHECK(step->height() < -200.0);
  }
  TEST_CASE("of three readings a jump between two of them is a step") {
    CHECK(*step_height(over_distance({0, 0, 200})) == doctest::Approx(200.0));
    CHECK(*step_height(over_distance({0, 100, 200})) == 0.0);
  }
}
