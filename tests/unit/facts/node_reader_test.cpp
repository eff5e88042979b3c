#include "facts/node_reader.h"

#include <doctest/doctest.h>

#include "support/card_reading.h"

using namespace slipcase;
using namespace slipcase::facts;
using slipcase::test::DocumentReading;

using Lines = std::vector<std::string>;

namespace {

// A document of one key, whose value is read by one of the functions.
struct OneValue {
  explicit OneValue(const std::string& text) : reading("v: " + text + "\n") {
    REQUIRE(reading.root);
    value = reading.root->find("v");
    REQUIRE(value != nullptr);
  }
  [[nodiscard]] Lines messages() const {
    return test::places_and_names(diagnostics, reading.sources);
  }
  [[nodiscard]] std::string said() const {
    return diagnostics.empty() ? "" : diagnostics.list().front().text;
  }

  DocumentReading reading;
  const Node* value = nullptr;
  Diagnostics diagnostics;
};

}  // namespace

TEST_CASE("unknown keys are told with the name that was meant, or with all there are") {
  const DocumentReading reading("odometr: 1\nref: x\ncolour: red\n");
  Diagnostics diagnostics;
  auto map = MapReader::of(*reading.root, "`vehicle`", diagnostics);
  REQUIRE(map);
  CHECK(map->optional("ref") != nullptr);
  CHECK(map->optional("odometer") == nullptr);
  map->finish();
  REQUIRE(diagnostics.list().size() == 2);
  CHECK(diagnostics.list()[0].text ==
        "`odometr` is not known in `vehicle`, did you mean `odometer`?");
  CHECK(diagnostics.list()[1].text ==
        "`colour` is not known in `vehicle`: it takes `ref` or `odometer`");
  CHECK(reading.source_of(reading.root->entries[2].key) == "colour");
}

TEST_CASE("a missing key is told at the head of its group") {
  const DocumentReading reading("list:\n  - date: 2031-04-17\n");
  Diagnostics diagnostics;
  const Node& item = reading.root->find("list")->items.at(0);
  auto map = MapReader::of(item, "an event", diagnostics);
  REQUIRE(map);
  CHECK(map->required("what") == nullptr);
  CHECK(test::places_and_names(diagnostics, reading.sources) == Lines{"2:5 document-missing-key"});
  CHECK(diagnostics.list().front().text == "an event needs `what`");
}

TEST_CASE("a key with nothing behind it is told once") {
  const DocumentReading reading("what:\n");
  Diagnostics diagnostics;
  auto map = MapReader::of(*reading.root, "an event", diagnostics);
  REQUIRE(map);
  CHECK(map->required("what") == nullptr);
  CHECK(map->even_empty("what") != nullptr);
  CHECK(test::places_and_names(diagnostics, reading.sources) ==
        Lines{"1:1 document-value-missing"});
}

TEST_CASE("a value of another shape is told as what it is and what is expected") {
  OneValue list("[1, 2]");
  CHECK_FALSE(MapReader::of(*list.value, "`vehicle`", list.diagnostics));
  CHECK(list.messages() == Lines{"1:4 document-wrong-shape"});
  CHECK(list.said() == "`vehicle` is a list here, a group of `key: value` lines is expected");
  OneValue map("{a: 1}");
  CHECK_FALSE(read_scalar(*map.value, "`ref`", map.diagnostics));
  CHECK(map.messages() == Lines{"1:5 document-wrong-shape"});
  OneValue single("x");
  CHECK(read_list(*single.value, "`events`", false, single.diagnostics).empty());
  CHECK(single.messages() == Lines{"1:4 document-wrong-shape"});
}

TEST_CASE("one text stands for a list of one where that is allowed") {
  OneValue one("K1");
  CHECK(read_scalars(*one.value, "`never`", one.diagnostics).at(0).text == "K1");
  OneValue two("[K1, {a: 1}, K2]");
  CHECK(read_scalars(*two.value, "`never`", two.diagnostics).size() == 2);
  CHECK(two.messages() == Lines{"1:10 document-wrong-shape"});
}

TEST_CASE("every slip in a quantity has its own message at the value") {
  const auto pressure = units::of(units::Base::pressure);
  const auto check = [&](const std::string& text, const char* name) {
    OneValue value(text);
    CHECK_FALSE(read_quantity(*value.value, pressure, value.diagnostics));
    CHECK(value.messages() == Lines{std::string("1:4 ") + name});
  };
  check("210", "value-unit-missing");
  check("210 mbars", "value-unit-unknown");
  check("210 km", "value-unit-wrong");
  check("2,5 bar", "value-number-shape");
  check("200 000 Pa", "value-number-shape");
  check("high", "value-number-shape");
  check("5 min", "value-unit-shape");
  check("1 month", "value-unit-shape");
  check(".nan", "value-not-finite");
  check(".inf", "value-not-finite");
  check("1e999 bar", "value-not-finite");
  OneValue good("210 mbar");
  CHECK(read_quantity(*good.value, pressure, good.diagnostics)->value == 21'000);
}

TEST_CASE("a wrong unit is told with the units that would do") {
  OneValue value("94 C");
  CHECK_FALSE(read_quantity(*value.value, units::of(units::Base::volume), value.diagnostics));
  CHECK(value.said() ==
        "`94 C` is a temperature, a volume is expected: write it in `ml`, `l` or `quarts`");
}

TEST_CASE("every slip in a date has its own message") {
  const auto check = [](const std::string& text, const char* name) {
    OneValue value(text);
    CHECK_FALSE(read_moment(*value.value, value.diagnostics));
    CHECK(value.messages() == Lines{std::string("1:4 ") + name});
  };
  check("2031-02-30", "value-no-such-day");
  check("2031-13-01", "value-no-such-day");
  check("4/22/2031", "value-date-shape");
  check("17.4.2031", "value-date-shape");
  check("2031-4-7", "value-date-shape");
  check("soon", "value-date-shape");
  check("early March", "card-not-a-day");
  check("2031-04-17 25:00", "value-no-such-time");
  check("2031-04-17T14:30", "value-no-such-time");
  OneValue day("2031-04-17");
  CHECK(read_date(*day.value, day.diagnostics)->text() == "2031-04-17");
  OneValue timed("2031-04-17 14:30");
  CHECK(read_moment(*timed.value, timed.diagnostics)->text() == "2031-04-17 14:30");
  CHECK_FALSE(read_date(*timed.value, timed.diagnostics));
}

TEST_CASE("a day that does not exist is told with the last one of its month") {
  OneValue value("2031-02-30");
  CHECK_FALSE(read_date(*value.value, value.diagnostics));
  CHECK(value.said() == "there is no day `2031-02-30`: that month ends with 2031-02-28");
  OneValue zero("2031-04-00");
  CHECK_FALSE(read_date(*zero.value, zero.diagnostics));
  CHECK(zero.said() == "there is no day `2031-04-00`: that month ends with 2031-04-30");
  OneValue month("2031-13-01");
  CHECK_FALSE(read_date(*month.value, month.diagnostics));
  CHECK(month.said() == "there is no day `2031-13-01`: there is no month 13");
}

TEST_CASE("whole numbers are digits and nothing else") {
  const auto whole = [](const std::string& text) {
    OneValue value(text);
    const auto number = read_whole_number(*value.value, value.diagnostics);
    CHECK(number.has_value() == value.messages().empty());
    return number;
  };
  CHECK(whole("0") == 0U);
  CHECK(whole("34") == 34U);
  CHECK(whole("1000000000000000000") == 1'000'000'000'000'000'000U);
  for (const char* text : {"1000000000000000001", "99999999999999999999999999", "-1", "+1", "1.0",
                           "1e3", "x", "0x10", "1 000"}) {
    CAPTURE(text);
    CHECK_FALSE(whole(text));
  }
}

TEST_CASE("plain numbers may be shares, but have no unit") {
  OneValue share("40 %");
  CHECK(read_number(*share.value, share.diagnostics) == 0.4);
  OneValue bar("3 bar");
  CHECK_FALSE(read_number(*bar.value, bar.diagnostics));
  CHECK(bar.messages() == Lines{"1:4 value-unit-wrong"});
}

TEST_CASE("yes and no may be written as JSON does, and with capitals") {
  for (const char* text : {"yes", "true", "Yes", "TRUE"}) {
    OneValue value(text);
    CHECK(read_yes_no(*value.value, "`rotating`", value.diagnostics) == true);
  }
  for (const char* text : {"no", "false", "No"}) {
    OneValue value(text);
    CHECK(read_yes_no(*value.value, "`rotating`", value.diagnostics) == false);
  }
  OneValue maybe("maybe");
  CHECK_FALSE(read_yes_no(*maybe.value, "`rotating`", maybe.diagnostics));
  CHECK(maybe.messages() == Lines{"1:4 value-yes-or-no"});
}
