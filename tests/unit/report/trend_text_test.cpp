// Trends on screen: widths, few and many values, what must be said aloud.
#include <algorithm>
#include <limits>
#include <string>

#include <doctest/doctest.h>

#include "slipcase/report.h"

namespace slipcase {
namespace {

ReadingTrend reading_of(int values) {
  ReadingTrend reading;
  reading.id = "fill_pressure of K1";
  reading.kind = "fill_pressure";
  reading.member = "K1";
  reading.unit = "mbar";
  reading.low_limit = -300;
  reading.high_limit = 300;
  reading.low_watch = -100;
  reading.high_watch = 100;
  reading.scatter = 20;
  TrendSegment& segment = reading.segments.emplace_back();
  for (int i = 0; i < values; ++i) {
    const double value = 7.0 * i - 30.0;
    segment.values.push_back({"2031-01-01", 10000.0 + 5000.0 * i, value, "x", ""});
  }
  segment.used = segment.values.size();
  if (values >= 3) {
    segment.shape = TrendShape::rising;
    segment.slope = TrendSlope{14, 13, 15, 13, 15, 0.95, 10000, -44, true};
  }
  if (values > 0) reading.newest = segment.values.back();
  return reading;
}

VehicleTrend trend_of(int values) {
  VehicleTrend trend;
  trend.vehicle = "van 1";
  trend.distance_unit = "km";
  trend.cards = 1;
  trend.snapshots = static_cast<std::size_t>(values);
  trend.readings.push_back(reading_of(values));
  return trend;
}

std::size_t widest(const std::string& text) {
  std::size_t most = 0;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    most = std::max(most, end - at);
    at = end + 1;
  }
  return most;
}

TEST_CASE("no line is wider than the terminal, from no value to fifty") {
  for (const int values : {0, 1, 2, 3, 50}) {
    CAPTURE(values);
    for (const std::size_t width : {std::size_t{40}, std::size_t{80}, std::size_t{100}}) {
      const std::string text = to_text(trend_of(values), {width, false}, true);
      CHECK(widest(text) <= width);
      CHECK(text.ends_with('\n'));
    }
  }
}

TEST_CASE("every value is in the plot") {
  for (const int values : {1, 2, 3}) {
    const std::string text = to_text(trend_of(values), {}, true);
    const std::string plot = text.substr(0, text.find("* value"));
    CHECK(std::ranges::count(plot, '*') == values);
  }
}

TEST_CASE("only what moves is drawn unless all is asked for") {
  CHECK(to_text(trend_of(2)).find("* value") == std::string::npos);
  CHECK(to_text(trend_of(2), {}, true).find("* value") != std::string::npos);
  CHECK(to_text(trend_of(3)).find("* value") != std::string::npos);
}

TEST_CASE("values of one place are counted, and what is set aside looks otherwise") {
  VehicleTrend trend = trend_of(3);
  auto& values = trend.readings[0].segments[0].values;
  values.push_back(values[1]);
  values[0].aside = "the fluid was cold";
  const std::string text = to_text(trend);
  const std::string plot = text.substr(text.find("fill pressure of K1"));
  CHECK(plot.find('x') < plot.find("* value"));
  CHECK(plot.find("2", 0) < plot.find("* value"));
  CHECK(text.find("1 value set aside: the fluid was cold") != std::string::npos);
}

TEST_CASE("that cards are missing is said before anything else") {
  VehicleTrend trend = trend_of(3);
  trend.left_out = {"a.yaml"};
  trend.disagreements = 2;
  const std::string text = to_text(trend);
  CHECK(text.find("NOT COMPLETE: 1 card could not be used: a.yaml") < text.find("fill pressure"));
  CHECK(text.find("Two cards disagree in 2 places") < text.find("fill pressure"));
}

TEST_CASE("an order that is open leaves nothing to tell") {
  VehicleTrend trend = trend_of(3);
  trend.ordered = false;
  CHECK(to_text(trend).find("in which order") != std::string::npos);
  CHECK(to_text(trend).find("rising") == std::string::npos);
}

TEST_CASE("infinite limits are null in JSON") {
  VehicleTrend trend = trend_of(3);
  trend.readings[0].low_limit = -std::numeric_limits<double>::infinity();
  CHECK(to_json(trend).find("null") != std::string::npos);
}

TEST_CASE("none moves is not said where one changed by more than scatter") {
  const auto text = [](const TrendPattern& pattern) {
    VehicleTrend trend = trend_of(3);
    trend.patterns.push_back(pattern);
    return to_text(trend, {200, false});
  };
  TrendPattern pattern;
  pattern.reading = "fill_pressure";
  pattern.told = 3;
  CHECK(text(pattern).find("none of them moves") != std::string::npos);
  pattern.unsteady = {"K3"};
  CHECK(text(pattern).find("none of them moves") == std::string::npos);
  CHECK(text(pattern).find("K3 changed by more than readings scatter, in no clear direction.") !=
        std::string::npos);
  pattern.moved = ChangePattern::one;
  pattern.up = {"K1"};
  CHECK(text(pattern).find("fill pressure: K1 up; K3 changed by more than readings scatter, in no "
                           "clear direction; the others do not move.") != std::string::npos);
}

}  // namespace
}  // namespace slipcase
