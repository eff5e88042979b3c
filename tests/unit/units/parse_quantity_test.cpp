#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <random>
#include <string>

#include <doctest/doctest.h>

#include "units/quantity.h"

using namespace slipcase::units;

namespace {

double value(std::string_view text, const std::optional<Dimension>& expected = {}) {
  const QuantityParse parse = parse_quantity(text, expected);
  CAPTURE(std::string(text));
  REQUIRE(parse.quantity);
  return parse.quantity->value;
}

QuantityProblem problem(std::string_view text, const std::optional<Dimension>& expected = {}) {
  const QuantityParse parse = parse_quantity(text, expected);
  CAPTURE(std::string(text));
  REQUIRE(parse.problem);
  REQUIRE_FALSE(parse.quantity);
  return *parse.problem;
}

std::string advice(std::string_view text, const std::optional<Dimension>& expected = {}) {
  return describe(text, parse_quantity(text, expected), expected);
}

}  // namespace

TEST_CASE("a number and a unit make a quantity, with or without a blank between") {
  CHECK(value("210 mbar") == 21'000);
  CHECK(value("-15mbar") == -1'500);
  CHECK(value("+15 mbar") == 1'500);
  CHECK(value("  2.5 bar  ") == 250'000);
  CHECK(value("1e3 mbar") == 100'000);
  CHECK(value("40 %") == 0.4);
  CHECK(value("40%") == 0.4);
  CHECK(value("212 F") == 100);
  CHECK(value("94 °C") == 94);
  CHECK(value("700 1/min") == 700);
  CHECK(value("12 km/h") == doctest::Approx(12 / 3.6).epsilon(1e-15));
}

TEST_CASE("a minus and blanks as phones and word processors make them are read") {
  CHECK(value("\u221215 mbar") == -1'500);
  CHECK(value("\u201315 mbar") == -1'500);
  CHECK(value("210\u00A0mbar") == 21'000);
  CHECK(value("210\u202Fmbar") == 21'000);
}

TEST_CASE("the expected dimension tells a difference from a temperature") {
  CHECK(value("9 F", temperature_difference()) == 5);
  CHECK(value("5 °C", temperature_difference()) == 5);
  CHECK(parse_quantity("5 °C").quantity->dimension == temperature());
  CHECK(parse_quantity("5 K", temperature()).quantity->dimension == temperature_difference());
}

TEST_CASE("plain numbers and money need no unit, everything else does") {
  CHECK(value("3", plain_number()) == 3);
  CHECK(value("1800.50", of(Base::money)) == 180'050);
  CHECK(problem("3") == QuantityProblem::no_unit);
  CHECK(problem("3", of(Base::pressure)) == QuantityProblem::no_unit);
  CHECK(parse_quantity("3 bar", plain_number()).quantity->dimension == of(Base::pressure));
}

TEST_CASE("a decimal comma is refused with the number to write") {
  CHECK(problem("2,5 bar") == QuantityProblem::decimal_comma);
  CHECK(advice("2,5 bar") == "`2,5 bar` has a decimal comma: write `2.5 bar`");
  CHECK(parse_quantity("-0,75 bar").instead == "-0.75 bar");
  CHECK(parse_quantity("1.234,5 km").instead == "1234.5 km");
}

TEST_CASE("digits in groups are refused with the number to write") {
  for (const char* text : {"200 000 km", "200,000 km", "200.000.000 mm", "200'000 km", "200_000 km",
                           "200\u00A0000 km", "200\u2019000 km"}) {
    CAPTURE(text);
    CHECK(problem(text) == QuantityProblem::grouped_digits);
  }
  CHECK(advice("91,400 miles") == "`91,400 miles` has its digits in groups: write `91400 miles`");
  CHECK(parse_quantity("1,234.5 km").instead == "1234.5 km");
  CHECK(parse_quantity("1 234 567 km").instead == "1234567 km");
}

TEST_CASE("a point is always a decimal point") { CHECK(value("1.234 km") == 1'234'000); }

TEST_CASE("words that people read differently are refused with what to write") {
  CHECK(problem("5 min") == QuantityProblem::ambiguous_unit);
  CHECK(advice("5 min") == "`5 min` can be read in two ways: write `5 minutes`");
  CHECK(advice("1 month") == "`1 month` has no fixed length: write `30 days`");
  CHECK(advice("2 years") == "`2 years` has no fixed length: write `730 days`");
}

TEST_CASE("an unknown unit comes with a suggestion, or with the units that would do") {
  CHECK(problem("210 mbars") == QuantityProblem::unknown_unit);
  CHECK(parse_quantity("210 mbars").unit_text == "mbars");
  CHECK(advice("210 mbars") == "`mbars` is not a known unit, did you mean `mbar`?");
  CHECK(advice("3 KM") == "`KM` is not a known unit: write `3 km`");
  CHECK(advice("3 furlongs", of(Base::volume)) ==
        "`furlongs` is not a known unit: write it in `ml`, `l` or `quarts`");
  CHECK(problem("30 mbar per 14000 miles") == QuantityProblem::unknown_unit);
  CHECK(problem("2 h 30 min") == QuantityProblem::unknown_unit);
  CHECK(problem("3 MV") == QuantityProblem::unknown_unit);
}

TEST_CASE("what is no number is refused") {
  CHECK(problem("") == QuantityProblem::empty);
  CHECK(problem("   ") == QuantityProblem::empty);
  for (const char* text : {"high", "mbar", "-", ".5 bar", "--5 bar", "not learned", "17.4.2031",
                           "1,2,3 bar", "1.2.3 bar", "1,23.4 bar"}) {
    CAPTURE(text);
    CHECK(problem(text) == QuantityProblem::not_a_number);
  }
  CHECK(problem("0x10 bar") == QuantityProblem::unknown_unit);
}

TEST_CASE("numbers that are not finite are refused") {
  for (const char* text : {"nan", ".nan", "NaN bar", "inf", "-.inf", "Infinity km", "1e999 bar",
                           "-1e999 bar", "1e308 km", "1e-999 bar"}) {
    CAPTURE(text);
    CHECK(problem(text) == QuantityProblem::not_finite);
  }
}

TEST_CASE("a missing unit is answered with the units that would do") {
  CHECK(advice("210", of(Base::pressure)) ==
        "`210` has no unit: write it in `Pa`, `mbar`, `kPa`, `bar`, `psi` or `inHg`");
}

TEST_CASE("numbers are decimal numbers and nothing else") {
  CHECK(parse_number("12") == 12.0);
  CHECK(parse_number("-0.5") == -0.5);
  CHECK(parse_number("+3") == 3.0);
  CHECK(parse_number("1.5e-3") == 0.0015);
  for (const char* text :
       {"",    "+",   "-",   "+-3", "-+3", ".5",    "5.",    "1.e5",   "1e",  "1e+",     "0x10",
        "inf", "nan", "1,5", " 1",  "1 ",  "1_000", "1e999", "1e-999", "--1", "\xC2\xBD"}) {
    CAPTURE(text);
    CHECK_FALSE(parse_number(text));
  }
}

TEST_CASE("numbers are rounded correctly") {
  // Half way between two doubles: to the even one; a little above: up. David Gay's hard cases, from
  // memory.
  CHECK(parse_number("9007199254740993") == 9007199254740992.0);
  CHECK(parse_number("9007199254740993.00000000000000000001") == 9007199254740994.0);
  CHECK(parse_number("2.2250738585072011e-308") == 2.2250738585072011e-308);
  CHECK(parse_number("0.1") == 0.1);
}

TEST_CASE("numbers agree with the C library on random decimals") {
  std::mt19937_64 random(417);  // any seed will do
  std::uniform_int_distribution<int> exponent(-300, 300);
  for (int i = 0; i < 20'000; ++i) {
    const std::string text = std::to_string(random()) + "." + std::to_string(random()) + "e" +
                             std::to_string(exponent(random) / 2);
    CAPTURE(text);
    REQUIRE(parse_number(text) == std::strtod(text.c_str(), nullptr));
  }
}
