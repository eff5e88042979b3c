#include "units/quantity.h"

#include <cmath>
#include <limits>
#include <random>

#include <doctest/doctest.h>

using namespace slipcase::units;

namespace {

Quantity read(std::string_view text, const std::optional<Dimension>& expected = {}) {
  const QuantityParse parse = parse_quantity(text, expected);
  CAPTURE(std::string(text));
  REQUIRE(parse.quantity);
  return *parse.quantity;
}

}  // namespace

TEST_CASE("quantities are shown in the unit that suits their size") {
  CHECK(to_text(read("148200 km")) == "148200 km");
  CHECK(to_text(read("-15 mbar")) == "-15 mbar");
  CHECK(to_text(read("0.3 m")) == "300 mm");
  CHECK(to_text(read("1500 mbar")) == "1.5 bar");
  CHECK(to_text(read("12 ms")) == "12 ms");
  CHECK(to_text(read("90 minutes")) == "1.5 h");
  CHECK(to_text(read("20 minutes")) == "20 minutes");
  CHECK(to_text(read("2 days")) == "2 days");
  CHECK(to_text(read("1 minute")) == "1 minute");
  CHECK(to_text(read("94 C")) == "94 °C");
  CHECK(to_text(read("6500 ml")) == "6.5 l");
  CHECK(to_text(read("0.02 A")) == "20 mA");
  CHECK(to_text(read("5.2 ohm")) == "5.2 ohm");
  CHECK(to_text(read("1200 rpm")) == "1200 rpm");
  CHECK(to_text(read("60 km/h")) == "60 km/h");
  CHECK(to_text(read("1234567 km")) == "1234567 km");
}

TEST_CASE("a duration is shown in days only where that takes few digits") {
  CHECK(to_text(read("100 h")) == "100 h");
  CHECK(to_text(read("72 h")) == "3 days");
  CHECK(to_text(read("26 h")) == "26 h");
}

TEST_CASE("zero is shown in a unit that says what it is") {
  CHECK(to_text(read("0 mbar")) == "0 mbar");
  CHECK(to_text(read("-0 km")) == "0 km");
  CHECK(to_text(read("0 h")) == "0 s");
}

TEST_CASE("plain numbers and money stand without a unit") {
  CHECK(to_text(read("40 %")) == "0.4");
  CHECK(to_text(read("40 %"), *find_unit("%")) == "40 %");
  CHECK(to_text(read("1800", of(Base::money))) == "1800");
  CHECK(to_text(read("12.5", of(Base::money))) == "12.5");
}

TEST_CASE("a chosen unit is used, one of it without the plural") {
  CHECK(to_text(read("14000 miles"), *find_unit("miles")) == "14000 miles");
  CHECK(to_text(read("1 mile"), *find_unit("miles")) == "1 mile");
  CHECK(to_text(read("91400 miles"), *find_unit("km")) == "147094 km");
}

TEST_CASE("slopes are shown per thousand kilometres or per hour") {
  const Dimension slope = quotient(of(Base::pressure), of(Base::distance));
  CHECK(to_text({2.0 * 100 / 1e9, slope}) == "2 mbar per 1000 km");
  CHECK(to_text({30.0 * 100 / (14'000 * 1'609'344.0), slope}) == "1.33151 mbar per 1000 km");
  CHECK(to_text({5.0 / 3.6e6, quotient(temperature(), of(Base::duration))}) == "5 °C per h");
  CHECK(to_text({0.5, quotient(of(Base::money), of(Base::duration))}) == "18000 money per h");
  CHECK(to_text({3.0 / 1e9, quotient(plain_number(), of(Base::distance))}) == "3 per 1000 km");
}

TEST_CASE("a temperature difference is not shifted by a scale") {
  CHECK(to_text(read("9 F", temperature_difference())) == "5 °C");
  CHECK(to_text(read("12 K")) == "12 °C");
}

TEST_CASE("what was written with up to six digits reads back exactly") {
  std::mt19937 random(20310417);  // any seed will do
  std::uniform_int_distribution<int> digits(-999'999, 999'999);
  std::uniform_int_distribution<int> power(0, 4);
  for (const Unit& unit : all_units()) {
    for (int i = 0; i < 500; ++i) {
      const double number = digits(random) / std::pow(10.0, power(random));
      const Quantity before = to_quantity(number, unit);
      const std::string text = to_text(before, unit);
      CAPTURE(text);
      const QuantityParse after = parse_quantity(text, unit.dimension);
      REQUIRE(after.quantity);
      REQUIRE(after.quantity->value == before.value);
      REQUIRE(after.quantity->dimension == before.dimension);
    }
  }
}

TEST_CASE("any value has a text of at most six digits or a whole number") {
  CHECK(to_text(read("14.5 psi")) == "999.74 mbar");
  CHECK(to_text(read("0.333333333 bar")) == "333.333 mbar");
  CHECK(to_text({1e300, of(Base::pressure)}) == "1e+295 bar");
  CHECK(to_text({std::numeric_limits<double>::denorm_min(), of(Base::volume)}) == "5e-324 ml");
}
