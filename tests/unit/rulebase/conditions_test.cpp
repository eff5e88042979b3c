#include <doctest/doctest.h>

#include "shop.h"

using namespace slipcase::test;

namespace {

std::string when(std::string_view condition) {
  return with_shop("finding f of element\nwhen " + std::string(condition));
}

std::string said(std::string_view condition) {
  return said_with_shop("finding f of element\nwhen " + std::string(condition));
}

}  // namespace

TEST_CASE("values of one dimension are compared, whatever the units") {
  CHECK(when("odometer > 100000 miles") == "");
  CHECK(when("fill_pressure of element > 2 psi") == "");
  CHECK(when("fluid_temperature > 80 °C") == "");
  CHECK(when("built < 2031-01-01") == "");
  CHECK(when("fill_pressure of element between -30 mbar and 30 mbar") == "");
  CHECK(when("fill_pressure of element within 30 mbar of zero") == "");
  CHECK(when("change of fluid_temperature > 5 °C") == "");
  CHECK(when("slope of fill_pressure of element > 30 mbar per 14000 miles") == "");
  CHECK(when("fill_pressure of element minus fill_pressure of K1 > 30 mbar") == "");
  CHECK(when("time since values_cleared < 30 days") == "");
  CHECK(when("distance since drum_rebuilt of element < 500 km") == "");
}

TEST_CASE("two dimensions are named where they cannot be compared") {
  CHECK(when("fill_time of element > 30 mbar") == "3:29 wrong-dimension");
  CHECK(said("fill_time of element > 30 mbar")
            .starts_with("pressure cannot be compared with duration; write it in "));
  CHECK(when("odometer > 200000") == "3:17 wrong-dimension");
  CHECK(when("built < 5 h") == "3:14 wrong-dimension");
  CHECK(when("fill_pressure of element between 30 mbar and 30 ms") == "3:51 wrong-dimension");
  CHECK(when("fluid_temperature within 30 mbar of 80 °C") == "3:31 wrong-dimension");
  CHECK(when("slope of fill_pressure of element > 30 mbar") == "3:42 wrong-dimension");
  CHECK(when("built minus odometer > 30 km") == "3:12 wrong-dimension");
  CHECK(when("fill_pressure of element per fluid_temperature > 1 bar").find("wrong-dimension") !=
        std::string::npos);
  CHECK(when("values_cleared at most 30 mbar after drum_rebuilt of element") ==
        "3:29 wrong-dimension");
}

TEST_CASE("a temperature and a difference of temperatures are two things") {
  CHECK(when("fluid_temperature > change of fluid_temperature") == "3:26 wrong-dimension");
  CHECK(when("fluid_temperature within 5 °C of 80 °C") == "");
  CHECK(when("fluid_temperature within 5 °C of zero") == "3:39 wrong-dimension");
}

TEST_CASE("a share is written in percent") {
  CHECK(when("limit_share of fill_pressure of element >= 40 %") == "");
  CHECK(when("limit_share of fill_pressure of element >= 40") == "3:49 share-in-percent");
}

TEST_CASE("an unknown unit gets the nearest") {
  CHECK(when("fill_pressure of element > 30 mbars").find("unknown-unit") != std::string::npos);
}

TEST_CASE("functions stand before a reading in one order") {
  CHECK(when("limit_share of as_read of fill_pressure of element > 10 %") == "");
  CHECK(when("limit_share of before_clearing of fill_pressure of element > 10 %") == "");
  CHECK(when("median of limit_share of fill_pressure of every element > 10 %") == "");
  CHECK(when("spread of fill_pressure of every other element > 10 mbar") == "");
  CHECK(when("high_limit of fill_pressure of element > 10 mbar") == "");
  CHECK(when("ratio_error of 2 > 50 rpm") == "");
  CHECK(when("largest of ratio_error of every gear using element > 50 rpm") == "");
  CHECK(when("slope of limit_share of fill_pressure of element > 10 %") == "3:15 wrong-chain");
  CHECK(when("limit_share of slope of fill_pressure of element > 10 %") == "3:21 wrong-chain");
  CHECK(when("median of fill_pressure of element > 10 mbar") == "3:6 wrong-chain");
  CHECK(when("fill_pressure of every element > 10 mbar").find("wrong-chain") != std::string::npos);
  CHECK(when("slop of fill_pressure of element > 10 mbar") == "3:6 wrong-chain");
  CHECK(when("slope of odometer > 10 km") == "3:15 wrong-chain");
}

TEST_CASE("a value that is no number is not compared") {
  CHECK(when("use > 5 km") == "3:6 not-a-value");
  CHECK(when("tuned > 5 km") == "3:6 not-a-value");
}

TEST_CASE("a word is one of the detail's") {
  CHECK(when("use is towing") == "");
  CHECK(when("use is not towing") == "");
  CHECK(when("tuned is towing") == "3:15 not-a-condition");
  CHECK(when("use is racing") == "3:13 unknown-choice");
  CHECK(when("odometer is towing") == "3:18 not-a-condition");
}

TEST_CASE("a condition asks what can be seen") {
  CHECK(when("tuned") == "");
  CHECK(when("flare of 2-3 at least always") == "");
  CHECK(when("level_low is known and odometer is not known and use is known") == "");
  CHECK(when("lining_worn of element") == "3:6 not-a-condition");
  CHECK(when("slips of element") == "3:6 not-a-condition");
  CHECK(when("fill_pressure of element") == "3:6 not-a-condition");
  CHECK(when("values_cleared") == "3:6 not-a-condition");
  CHECK(when("use") == "3:6 not-a-condition");
  CHECK(when("limit_share of fill_pressure of element") == "3:6 not-a-condition");
  CHECK(when("level_low at least bad") == "3:25 unknown-grade");
}

TEST_CASE("events are asked for one member") {
  CHECK(when("happened drum_rebuilt of element by others since values_cleared") == "");
  CHECK(when("on card overhaul since values_cleared") == "");
  CHECK(when("happened drum_rebuilt") == "3:15 which-member");
  CHECK(when("happened drum_rebuilt of any element") == "3:31 which-member");
}

TEST_CASE("codes look like codes or have a name in the profile") {
  CHECK(when("stored P0733") == "");
  CHECK(when("stored P0731 to P0736 and pending P0700") == "");
  CHECK(when("any gear ( stored ratio_code of gear )") == "");
  CHECK(when("stored converter_code") == "");
  CHECK(when("stored P0736 to P0731") == "3:22 unknown-code");
  CHECK(when("stored ratio_cod of 2") == "3:13 unknown-code");
}

TEST_CASE("two slips in one condition are both reported") {
  CHECK(when("levl_low and fill_time of element > 30 mbar") ==
        "3:6 unknown-name; 3:42 wrong-dimension");
}
