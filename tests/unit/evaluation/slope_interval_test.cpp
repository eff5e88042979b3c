// Intervals of slopes and distances to a limit against values from outside. Sources stand beside
// each series in tests/data/reference/trend_slopes.json and trend_series.json.
#include "evaluation/slope_interval.h"

#include <cmath>
#include <fstream>
#include <numeric>
#include <string>
#include <vector>

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include "evaluation/limit_crossing.h"

namespace slipcase::evaluation {
namespace {

nlohmann::json reference(const std::string& name) {
  std::ifstream file(std::string(SLIPCASE_TEST_DATA) + "/reference/" + name);
  REQUIRE(file);
  return nlohmann::json::parse(file);
}

std::vector<TrendPoint> series(const nlohmann::json& record) {
  std::vector<TrendPoint> list;
  for (std::size_t i = 0; i < record.at("y").size(); ++i)
    list.push_back({record.at("x")[i].get<double>(), record.at("y")[i].get<double>()});
  return list;
}

std::vector<TrendPoint> every_thousand(const std::vector<double>& values) {
  std::vector<TrendPoint> list;
  for (std::size_t i = 0; i < values.size(); ++i)
    list.push_back({1000.0 * static_cast<double>(i), values[i]});
  return list;
}

double up_to(const std::vector<double>& chances, std::size_t most) {
  return std::accumulate(chances.begin(), chances.begin() + static_cast<std::ptrdiff_t>(most) + 1,
                         0.0);
}

TEST_CASE("intervals and offsets are those of scipy where nothing is tied") {
  const auto records = reference("trend_slopes.json").at("records");
  REQUIRE(records.size() == 3);
  for (const auto& record : records) {
    CAPTURE(record.at("id").get<std::string>());
    const auto list = series(record);
    const auto found = slope_interval(list);
    REQUIRE(found);
    CHECK(found->pairs == record.at("pairs").get<std::size_t>());
    CHECK(found->low == doctest::Approx(record.at("interval")[0].get<double>()).epsilon(1e-12));
    CHECK(found->high == doctest::Approx(record.at("interval")[1].get<double>()).epsilon(1e-12));
    CHECK(found->confidence >= 0.95);
    CHECK(line_offset(list, found->slope) ==
          doctest::Approx(record.at("offset").get<double>()).epsilon(1e-9));
  }
}

TEST_CASE("the interval of a straight line holds the slope of least squares") {
  const auto lines = reference("trend_series.json").at("lines");
  REQUIRE(lines.size() == 3);
  for (const auto& record : lines) {
    CAPTURE(record.at("id").get<std::string>());
    const auto found = slope_interval(series(record));
    REQUIRE(found);
    const auto slope = record.at("slope").get<double>();
    CHECK(found->low < slope);
    CHECK(slope < found->high);
    if (!record.contains("sd_slope")) continue;
    CHECK(std::abs(found->slope - slope) < 2.0 * record["sd_slope"].get<double>());
  }
}

TEST_CASE("Kendall's distribution") {
  // Canned tuna: R prints p = 0.05972 for 26 or more of 36 pairs in order (Hollander, Wolfe 1973).
  CHECK(up_to(discordant_pairs(std::vector<std::size_t>(9, 1)), 10) ==
        doctest::Approx(0.05972).epsilon(1e-4));
  // Seven in perfect order: p = 2 / 7! = 0.000396825 (scipy.stats.kendalltau).
  CHECK(2.0 * discordant_pairs(std::vector<std::size_t>(7, 1))[0] ==
        doctest::Approx(0.0003968253968253968).epsilon(1e-12));
  const auto fifty = discordant_pairs(std::vector<std::size_t>(50, 1));
  CHECK(up_to(fifty, fifty.size() - 1) == doctest::Approx(1.0).epsilon(1e-12));
}

TEST_CASE("with two odometers it is the distribution of Mann and Whitney") {
  // H. Mann, D. Whitney, Annals of Mathematical Statistics 18 (1947) 50-60, table for 3 and 3 (from
  // memory; the first is one of 20 ways to mix them).
  const std::vector<std::size_t> groups{3, 3};
  const auto chances = discordant_pairs(groups);
  const std::vector<double> table{0.05, 0.10, 0.20, 0.35, 0.50};
  for (std::size_t u = 0; u < table.size(); ++u)
    CHECK(up_to(chances, u) == doctest::Approx(table[u]).epsilon(1e-12));
  CHECK(chances.size() == 10);
}

TEST_CASE("three and four readings cannot give 95 of 100, and the interval says what it gives") {
  const auto three = slope_interval(every_thousand({0, 10, 40}));
  REQUIRE(three);
  CHECK(three->confidence == doctest::Approx(2.0 / 3.0));
  CHECK(three->low == doctest::Approx(0.01));
  CHECK(three->high == doctest::Approx(0.03));
  CHECK(slope_interval(every_thousand({0, 10, 40, 50}))->confidence ==
        doctest::Approx(11.0 / 12.0));
  CHECK(slope_interval(every_thousand({0, 10, 40, 50, 60}))->confidence ==
        doctest::Approx(1.0 - 2.0 / 120.0));
  CHECK_FALSE(slope_interval(every_thousand({0, 10})));
}

TEST_CASE("beyond fifty the normal approximation takes over without a jump") {
  std::vector<double> values;
  for (int i = 0; i < 51; ++i) values.push_back(i + (i % 7) * 3.0);
  const auto more = slope_interval(every_thousand(values));
  values.pop_back();
  const auto exact = slope_interval(every_thousand(values));
  REQUIRE(more);
  REQUIRE(exact);
  CHECK(more->low == doctest::Approx(exact->low).epsilon(0.05));
  CHECK(more->high == doctest::Approx(exact->high).epsilon(0.05));
}

TEST_CASE("the scatter of a reading: three in a row are as good as their ends") {
  // Twice the root of two times the scatter over the run: the least difference of
  // docs/functions.md.
  CHECK(slope_scatter(every_thousand({0, 5, 9}), 20.0) ==
        doctest::Approx(2.0 * std::sqrt(2.0) * 20.0 / 2000.0));
  CHECK(slope_scatter(std::vector<TrendPoint>{{5, 1}, {5, 2}}, 20.0) == 0.0);
}

TEST_CASE("the distance to a limit is about that of a prediction band") {
  const auto record = reference("trend_series.json").at("limit");
  const auto list = series(record);
  const auto slope = slope_interval(list);
  REQUIRE(slope);
  const auto limit = record.at("limit").get<double>();
  const auto found = limit_crossing(list, {slope->low, slope->high}, limit, 0.0);
  REQUIRE(found);
  // Another method on the same data: the two need not agree to more than a few per cent.
  CHECK(found->earliest == doctest::Approx(record.at("earliest").get<double>()).epsilon(0.05));
  CHECK(found->latest == doctest::Approx(record.at("latest").get<double>()).epsilon(0.05));
  CHECK(found->earliest < record.at("line").get<double>());
  CHECK(found->latest > record.at("line").get<double>());
}

TEST_CASE("there is a distance only where all slopes lead to the limit") {
  const auto list = every_thousand({0, 10, 20});
  CHECK(limit_crossing(list, {0.01, 0.01}, 100, 0)->earliest == doctest::Approx(10000.0));
  CHECK(limit_crossing(list, {0.01, 0.01}, 100, 10)->earliest == doctest::Approx(9000.0));
  CHECK(limit_crossing(list, {0.01, 0.01}, 100, 10)->latest == doctest::Approx(11000.0));
  CHECK_FALSE(limit_crossing(list, {-0.01, 0.02}, 100, 0));
  CHECK_FALSE(limit_crossing(list, {0.01, 0.02}, -100, 0));
  const auto down = every_thousand({0, -10, -20});
  CHECK(limit_crossing(down, {-0.02, -0.01}, -100, 0)->latest == doctest::Approx(10000.0));
}

}  // namespace
}  // namespace slipcase::evaluation
