#include <cmath>
#include <fstream>
#include <set>
#include <string>

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include "units/quantity.h"

using namespace slipcase::units;

namespace {

nlohmann::json reference_units() {
  std::ifstream file(SLIPCASE_TEST_DATA "/reference/unit_factors.json");
  return nlohmann::json::parse(file);
}

double converted(double number, const std::string& from, const std::string& to) {
  const Unit* source = find_unit(from);
  const Unit* target = find_unit(to);
  REQUIRE(source != nullptr);
  REQUIRE(target != nullptr);
  REQUIRE(source->dimension == target->dimension);
  return in_unit(to_quantity(number, *source), *target);
}

}  // namespace

TEST_CASE("factors agree with NIST SP 811 to the last digits of a double") {
  // NIST SP 811 (2008), appendix B, as exact fractions.
  const auto table = reference_units();
  for (const auto& factor : table.at("factors").at("list")) {
    const double expected =
        factor.at("numerator").get<double>() / factor.at("denominator").get<double>();
    const double found = converted(1, factor.at("of"), factor.at("in"));
    CAPTURE(factor);
    CHECK(std::abs(found - expected) <= 4e-16 * expected);
  }
}

TEST_CASE("factors agree with the digits that NIST SP 811 prints") {
  // From memory of the printed table.
  const auto table = reference_units();
  for (const auto& factor : table.at("printed").at("list")) {
    CAPTURE(factor);
    const double off =
        converted(1, factor.at("of"), factor.at("in")) - factor.at("value").get<double>();
    CHECK(std::abs(off) <= factor.at("tolerance").get<double>());
  }
}

TEST_CASE("Fahrenheit becomes Celsius, exactly where Celsius is whole") {
  // t(C) = (t(F) - 32) / 1.8, NIST SP 811 (2008), appendix B.
  const auto all = reference_units();
  const auto& table = all.at("temperatures");
  for (std::size_t i = 0; i < table.at("fahrenheit").size(); ++i) {
    const double celsius = table.at("celsius").at(i).get<double>();
    const double found = converted(table.at("fahrenheit").at(i).get<double>(), "°F", "°C");
    CAPTURE(celsius);
    CHECK(std::abs(found - celsius) <= 1e-12);
    if (celsius == std::nearbyint(celsius)) CHECK(found == celsius);
  }
}

TEST_CASE("a difference in Fahrenheit has no offset") {
  const Unit* difference = difference_unit(*find_unit("F"));
  REQUIRE(difference != nullptr);
  CHECK(to_quantity(9, *difference).value == 5.0);
  CHECK(difference->dimension == temperature_difference());
}

TEST_CASE("what is no temperature on the scale is its own difference") {
  const Unit* mbar = find_unit("mbar");
  CHECK(difference_unit(*mbar) == mbar);
}

TEST_CASE("every accepted spelling finds a unit, and none is listed twice") {
  std::set<std::string> seen;
  for (const std::string& spelling : unit_spellings()) {
    CAPTURE(spelling);
    CHECK(find_unit(spelling) != nullptr);
    CHECK(seen.insert(spelling).second);
  }
}

TEST_CASE("capitals and shortened minutes are not taken for something else") {
  for (const char* spelling :
       {"Mbar", "MBAR", "KM", "min", "mins", "month", "MV", "", " km", "k"}) {
    CAPTURE(spelling);
    CHECK(find_unit(spelling) == nullptr);
  }
}

TEST_CASE("spellings for the same unit mean the same") {
  CHECK(find_unit("C") == find_unit("°C"));
  CHECK(find_unit("mi") == find_unit("miles"));
  CHECK(find_unit("hours") == find_unit("h"));
  CHECK(find_unit("\u03A9") == find_unit("\u2126"));
  CHECK(find_unit("1/min") == find_unit("rpm"));
}

TEST_CASE("the units of a dimension can be listed for a message") {
  CHECK(spellings_of(of(Base::pressure)) ==
        std::vector<std::string>{"Pa", "mbar", "kPa", "bar", "psi", "inHg"});
  CHECK(spellings_of(temperature()) == std::vector<std::string>{"°C", "°F"});
  CHECK(spellings_of(temperature_difference()) == std::vector<std::string>{"K", "°C", "°F"});
  CHECK(spellings_of(quotient(of(Base::pressure), of(Base::distance))).empty());
}

TEST_CASE("whole numbers in everyday units stay whole in base units") {
  // What a limit is compared with must not hang on a rounding.
  for (const char* symbol :
       {"km", "miles", "ms", "s", "minutes", "h", "days", "mbar", "bar", "ml", "l"}) {
    const Unit* unit = find_unit(symbol);
    for (double number = 1; number < 300'000; number = number * 3 + 1) {
      CAPTURE(symbol);
      const double value = to_quantity(number, *unit).value;
      CHECK(value == std::nearbyint(value));
      CHECK(in_unit(to_quantity(number, *unit), *unit) == number);
    }
  }
}
