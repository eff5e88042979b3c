// All cards of a vehicle through the public functions, with the shipped rules. Cards are invented.
#include "slipcase/trend.h"

#include <algorithm>
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include <doctest/doctest.h>
#include <fmt/core.h>

namespace slipcase {
namespace {

struct Trending {
  explicit Trending(const std::vector<std::string>& cards) {
    RulePaths paths;
    paths.shipped = std::filesystem::path(SLIPCASE_RULES) / "six_speed";
    const KnowledgeLoad rules = load_knowledge(paths, std::make_shared<SourceSet>(), diagnostics);
    REQUIRE(rules.knowledge);
    std::vector<CardText> texts;
    for (std::size_t i = 0; i < cards.size(); ++i)
      texts.push_back({fmt::format("card{}.yaml", i), cards[i], "six_speed"});
    load = load_vehicle(std::move(texts), *rules.knowledge, diagnostics);
    if (load.vehicle) told = trend(*rules.knowledge, *load.vehicle);
  }
  [[nodiscard]] const ReadingTrend& reading(std::string_view id) const {
    const auto found = std::ranges::find(told.readings, id, &ReadingTrend::id);
    REQUIRE(found != told.readings.end());
    return *found;
  }

  Diagnostics diagnostics;
  TrendLoad load;
  VehicleTrend told;
};

/// One visit: its year, odometer and K1's fill pressure in mbar.
std::string visit(int year, const std::string& odometer, int value, const std::string& rest = "") {
  return fmt::format(
      "job: J\nunit: six_speed\nvehicle: {{ ref: van 1, odometer: {1} }}\nopened: {0}-02-01\n"
      "readings:\n  - {{ date: {0}-02-01, odometer: {1}, software: A,\n"
      "      fluid_temperature: 80 C, fill_pressure: {{ K1: {2} mbar }} }}\n{3}",
      year, odometer, value, rest);
}

TEST_CASE("a drift over five visits has a slope, an interval and a distance as a range") {
  const Trending one({visit(2027, "20000 km", 10), visit(2028, "40000 km", 52),
                      visit(2029, "60000 km", 88), visit(2030, "80000 km", 131),
                      visit(2031, "100000 km", 170)});
  CHECK(one.load.outcome == Loaded::good);
  const ReadingTrend& reading = one.reading("fill_pressure of K1");
  REQUIRE(reading.segments.size() == 1);
  CHECK(reading.segments[0].shape == TrendShape::rising);
  REQUIRE(reading.segments[0].slope);
  CHECK(reading.segments[0].slope->value == doctest::Approx(20.0).epsilon(0.05));
  REQUIRE(reading.to_limit);
  CHECK(reading.to_limit->limit == 300.0);
  // Straight on it would be (300 - 170) / 20 * 10000 km.
  CHECK(reading.to_limit->earliest < 65000.0);
  REQUIRE(reading.to_limit->latest);
  CHECK(*reading.to_limit->latest > 65000.0);
  CHECK(one.told.next->to <= reading.to_limit->earliest / 2.0);
}

TEST_CASE("cards in miles are told in miles") {
  const Trending one({visit(2027, "10000 miles", 10), visit(2028, "20000 miles", 60),
                      visit(2029, "30000 miles", 110)});
  CHECK(one.told.distance_unit == "miles");
  CHECK(one.reading("fill_pressure of K1").segments[0].slope->value == doctest::Approx(50.0));
  CHECK(one.told.last_at == "2029-02-01, 30000 miles");
}

TEST_CASE("the next look counts from the newest visit, not from the highest odometer") {
  const Trending one({visit(2025, "150000 km", 40), visit(2026, "170000 km", 60),
                      visit(2027, "90000 km", 60), visit(2028, "110000 km", 61),
                      visit(2029, "130000 km", 60)});
  REQUIRE(one.told.next);
  CHECK(one.told.next->odometer == 130000.0);
  CHECK(one.told.next->to == 22500.0);
}

TEST_CASE("three values within 20 km have neither slope nor distance") {
  const Trending one(
      {visit(2025, "50000 km", 40), visit(2026, "50010 km", 90), visit(2027, "50020 km", 140)});
  const ReadingTrend& reading = one.reading("fill_pressure of K1");
  CHECK(reading.segments[0].shape == TrendShape::too_near);
  CHECK_FALSE(reading.segments[0].slope);
  CHECK_FALSE(reading.to_limit);
  CHECK(reading.no_distance_because ==
        "its values lie within 20 km, and below 1500 there is no trend");
}

TEST_CASE("fast values ask for a soon look, with two points and with one") {
  const Trending two({visit(2025, "50000 km", 60), visit(2026, "70000 km", 180)});
  CHECK(two.told.next->look == Look::act);
  CHECK(two.reading("fill_pressure of K1").look_because ==
        "moved by +120 mbar in the last 20000 km, fast for its limit");
  const Trending alone({visit(2025, "50000 km", 290)});
  CHECK(alone.told.next->look == Look::act);
  CHECK(alone.told.next->to == 5000.0);
}

TEST_CASE("what is converted to miles is told in whole miles") {
  const Trending one({visit(2027, "50000 km", 10), visit(2028, "40000 miles", 60)});
  CHECK(one.told.first_at == "2027-02-01, 31069 miles");
  const auto& values = one.reading("fill_pressure of K1").segments[0].values;
  CHECK(*values[0].odometer == doctest::Approx(31068.56));
}

TEST_CASE("two visits are no trend, and there is no distance") {
  const Trending one({visit(2027, "20000 km", 10), visit(2028, "40000 km", 200)});
  const ReadingTrend& reading = one.reading("fill_pressure of K1");
  CHECK(reading.segments[0].shape == TrendShape::too_few);
  CHECK_FALSE(reading.to_limit);
  CHECK(reading.no_distance_because == "fewer than three values at different odometers");
}

TEST_CASE("after a reset the newest stretch is empty until something is read") {
  const Trending one(
      {visit(2027, "20000 km", 10), visit(2028, "40000 km", 60),
       visit(2029, "60000 km", 110,
             "repairs: [ { done: overhaul, date: 2029-02-03, odometer: 60010 km } ]\n")});
  const ReadingTrend& reading = one.reading("fill_pressure of K1");
  REQUIRE(reading.segments.size() == 2);
  CHECK(reading.segments[0].shape == TrendShape::rising);
  CHECK(reading.segments[1].values.empty());
  CHECK_FALSE(reading.newest);
  CHECK(reading.no_distance_because == "nothing was read since");
  CHECK(one.told.next->to == doctest::Approx(2510.0));
}

TEST_CASE("a card with errors is left out, and the rest is told") {
  const Trending one({visit(2027, "20000 km", 10), visit(2028, "40000 kms", 60)});
  CHECK(one.load.outcome == Loaded::input_errors);
  REQUIRE(one.load.vehicle);
  CHECK(one.told.left_out == std::vector<std::string>{"card1.yaml"});
  CHECK(one.told.cards == 1);
}

TEST_CASE("a code of one visit sets aside the values of that visit alone") {
  const Trending one({visit(2027, "20000 km", 10), visit(2028, "40000 km", 250, "codes: [P0715]\n"),
                      visit(2029, "60000 km", 20), visit(2030, "80000 km", 15)});
  const auto& values = one.reading("fill_pressure of K1").segments[0].values;
  REQUIRE(values.size() == 4);
  CHECK(values[0].aside.empty());
  CHECK_FALSE(values[1].aside.empty());
  CHECK(values[2].aside.empty());
  CHECK(one.reading("fill_pressure of K1").segments[0].used == 3);
}

TEST_CASE("what a visit is not told on its own card is known from the cards before it") {
  // All at zero on an old car is set aside, unless it is known that somebody cleared the values.
  const std::string zero =
      "job: J\nunit: six_speed\nvehicle: { ref: van 1, odometer: 61000 km }\nopened: 2029-03-01\n"
      "readings:\n  - { date: 2029-03-01, odometer: 61000 km, software: A, fluid_temperature: 80 "
      "C,\n"
      "      fill_pressure: { K1: 0 mbar, K2: 0 mbar, K3: 0 mbar, B1: 0 mbar, B2: 0 mbar },\n"
      "      fill_time: { K1: 0 ms, K2: 0 ms, K3: 0 ms, B1: 0 ms, B2: 0 ms } }\n";
  const Trending alone({visit(2028, "60000 km", 0), zero});
  CHECK(alone.reading("fill_pressure of K1").segments.back().used == 1);
  const Trending known({visit(2028, "60000 km", 0,
                              "events: [ { what: values_cleared, date: 2028-02-02 } ]\n"
                              "repairs: [ { done: learning_drive, date: 2028-02-03 } ]\n"),
                        zero});
  CHECK(known.reading("fill_pressure of K1").segments.back().values.back().aside.empty());
}

TEST_CASE("a clearing that nobody dated may lie anywhere, and is said to") {
  const Trending one({visit(2027, "20000 km", 10), visit(2028, "40000 km", 20),
                      visit(2029, "60000 km", 30, "events: [ { what: values_cleared } ]\n")});
  const auto& segments = one.reading("fill_pressure of K1").segments;
  CHECK(segments.size() == 4);
  for (std::size_t i = 1; i < segments.size(); ++i) CHECK_FALSE(segments[i].split_surely);
}

TEST_CASE("an odometer that falls with the date cuts the series") {
  const Trending one({visit(2027, "80000 km", 10), visit(2028, "90000 km", 20),
                      visit(2029, "100000 km", 30), visit(2030, "20000 km", 40)});
  const auto& segments = one.reading("fill_pressure of K1").segments;
  REQUIRE(segments.size() == 2);
  CHECK(segments[1].since == "the odometer falls");
}

TEST_CASE("names of vehicles") {
  CHECK(vehicle_named_in("vehicle: { ref: ' Van 12 ' }") == "Van 12");
  CHECK_FALSE(vehicle_named_in("job: J-1"));
  CHECK(is_same_vehicle(" Van 12", "van 12"));
  CHECK_FALSE(is_same_vehicle("van 12", "van12"));
  CHECK(nearest_vehicles("coup 14", std::vector<std::string>{"coupe 14", "van 12"}) ==
        std::vector<std::string>{"coupe 14"});
}

}  // namespace
}  // namespace slipcase
