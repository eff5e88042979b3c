#include "units/dimension.h"

#include <doctest/doctest.h>

using namespace slipcase::units;

TEST_CASE("every name a rule file may use for a dimension is known, and no other") {
  for (const std::string& name : dimension_names()) {
    CAPTURE(name);
    CHECK(dimension_named(name));
  }
  CHECK(dimension_named("time") == dimension_named("duration"));
  CHECK(dimension_named("share") == plain_number());
  CHECK(dimension_named("temperature") != dimension_named("temperature difference"));
  CHECK_FALSE(dimension_named("weight"));
  CHECK_FALSE(dimension_named("Pressure"));
  CHECK_FALSE(dimension_named(""));
}

TEST_CASE("dimensions are described in words") {
  CHECK(describe(of(Base::pressure)) == "pressure");
  CHECK(describe(temperature()) == "temperature");
  CHECK(describe(temperature_difference()) == "temperature difference");
  CHECK(describe(plain_number()) == "plain number");
  CHECK(describe(*dimension_named("speed")) == "speed");
  CHECK(describe(quotient(of(Base::pressure), of(Base::distance))) == "pressure per distance");
  CHECK(describe(quotient(plain_number(), of(Base::duration))) == "number per duration");
  CHECK(describe(quotient(temperature(), of(Base::duration))) ==
        "temperature difference per duration");
}

TEST_CASE("dividing by the same dimension leaves a plain number") {
  CHECK(quotient(of(Base::pressure), of(Base::pressure)) == plain_number());
  CHECK(quotient(of(Base::distance), of(Base::duration)) == *dimension_named("speed"));
}

TEST_CASE("a long chain of divisions stays within bounds") {
  Dimension dimension = of(Base::pressure);
  for (int i = 0; i < 1000; ++i) dimension = quotient(dimension, of(Base::distance));
  CHECK(dimension.exponents.at(0) == -100);
}

TEST_CASE("two temperatures differ by a temperature difference") {
  CHECK(difference(temperature(), temperature()) == temperature_difference());
  CHECK(difference(temperature(), temperature_difference()) == temperature());
  CHECK_FALSE(difference(temperature_difference(), temperature()));
  CHECK(difference(temperature_difference(), temperature_difference()) == temperature_difference());
}

TEST_CASE("only quantities of one dimension can be subtracted") {
  CHECK(difference(of(Base::pressure), of(Base::pressure)) == of(Base::pressure));
  CHECK_FALSE(difference(of(Base::pressure), of(Base::duration)));
  CHECK_FALSE(difference(of(Base::pressure), plain_number()));
}
