// The functions of readings, as docs/functions.md defines them. Cards are invented; every one is
// opened on 2031-04-17. The invented profile: fresh for 60 days and 3000 km, scatter of a fill
// pressure 20 mbar (so a change counts from 56.6 mbar), limits -300 and 300 mbar, B2 -200 and 400.
#include <string>

#include <doctest/doctest.h>
#include <fmt/core.h>

#include "support/truth_of.h"

using slipcase::test::truth_of;

namespace {

std::string snapshot(const std::string& when, const std::string& values) {
  return "  - { " + when + ", fill_pressure: { " + values + " } }\n";
}

std::string card(const std::string& snapshots, const std::string& rest = "") {
  return rest + "readings:\n" + snapshots;
}

std::string at(int odometer, const std::string& values) {
  return snapshot(fmt::format("odometer: {} km", odometer), values);
}

const std::string is_100 = "fill_pressure of K1 = 100 mbar";

}  // namespace

TEST_SUITE("a bare reading") {
  TEST_CASE("is the newest, in whatever order the card lists them") {
    const std::string today = snapshot("date: 2031-04-17", "K1: 100 mbar");
    const std::string before = snapshot("date: 2031-04-10", "K1: 40 mbar");
    CHECK(truth_of(is_100, card(before + today)) == "yes");
    CHECK(truth_of(is_100, card(today + before)) == "yes");
  }
  TEST_CASE("is unknown for an element that was not read") {
    CHECK(truth_of(is_100, card(snapshot("date: 2031-04-17", "K2: 100 mbar"))) == "unknown");
  }
  TEST_CASE("is fresh for sixty days and no longer") {
    CHECK(truth_of(is_100, card(snapshot("date: 2031-02-16", "K1: 100 mbar"))) == "yes");
    CHECK(truth_of(is_100, card(snapshot("date: 2031-02-15", "K1: 100 mbar"))) == "unknown");
  }
  TEST_CASE("is fresh for 3000 km and no longer, where only the odometer is given") {
    const std::string vehicle = "vehicle: { odometer: 100000 km }\n";
    CHECK(truth_of(is_100, card(at(97000, "K1: 100 mbar"), vehicle)) == "yes");
    CHECK(truth_of(is_100, card(at(96999, "K1: 100 mbar"), vehicle)) == "unknown");
  }
  TEST_CASE("of today but of too many kilometres ago is not fresh") {
    const std::string vehicle = "vehicle: { odometer: 100000 km }\n";
    const std::string old = snapshot("date: 2031-04-10, odometer: 90000 km", "K1: 100 mbar");
    CHECK(truth_of(is_100, card(old, vehicle)) == "unknown");
  }
  TEST_CASE("does not reach behind a clearing, a new software or a rebuild") {
    const std::string read = card(snapshot("date: 2031-04-01", "K1: 100 mbar"));
    const auto after = [&](const std::string& event, const std::string& day) {
      return truth_of(is_100, read + "events: [ { what: " + event + ", date: " + day + " } ]\n");
    };
    CHECK(after("values_cleared", "2031-03-31") == "yes");
    CHECK(after("values_cleared", "2031-04-02") == "unknown");
    CHECK(after("battery_flat", "2031-04-02") == "unknown");
    CHECK(after("software_updated", "2031-04-02") == "unknown");
    CHECK(after("fluid_service", "2031-04-02") == "yes");
  }
  TEST_CASE("of one element outlives the rebuild of another") {
    const std::string read = card(snapshot("date: 2031-04-01", "K1: 100 mbar"));
    CHECK(truth_of(is_100, read + "events: [ { what: drum_rebuilt of K2, date: 2031-04-02 } ]\n") ==
          "yes");
    CHECK(truth_of(is_100, read + "events: [ { what: drum_rebuilt of K1, date: 2031-04-02 } ]\n") ==
          "unknown");
  }
  TEST_CASE("comes before the events of its day, unless it is marked or timed") {
    const std::string cleared = "events: [ { what: values_cleared, date: 2031-04-17 } ]\n";
    CHECK(truth_of(is_100, card(snapshot("date: 2031-04-17", "K1: 100 mbar"), cleared)) ==
          "unknown");
    CHECK(truth_of(is_100, card(snapshot("date: 2031-04-17, after: values_cleared", "K1: 100 mbar"),
                                cleared)) == "yes");
    const std::string at_ten = "events: [ { what: values_cleared, date: 2031-04-17 10:00 } ]\n";
    CHECK(truth_of(is_100, card(snapshot("date: 2031-04-17 11:00", "K1: 100 mbar"), at_ten)) ==
          "yes");
    CHECK(truth_of(is_100, card(snapshot("date: 2031-04-17 09:00", "K1: 100 mbar"), at_ten)) ==
          "unknown");
  }
  TEST_CASE("that was read as not learned is unknown, and no older one stands in for it") {
    const std::string both = snapshot("date: 2031-04-10", "K1: 100 mbar") +
                             snapshot("date: 2031-04-17", "K1: not learned");
    CHECK(truth_of(is_100, card(both)) == "unknown");
  }
  TEST_CASE("is unknown where it is open which of two is the newer one") {
    const std::string both =
        snapshot("date: 2031-04-10", "K1: 100 mbar") + at(99000, "K1: 40 mbar");
    CHECK(truth_of(is_100, card(both, "vehicle: { odometer: 100000 km }\n")) == "unknown");
  }
}

TEST_SUITE("before clearing") {
  const std::string condition = "before_clearing of fill_pressure of K1 = 100 mbar";
  const std::string cleared = "events: [ { what: values_cleared, date: 2031-03-02 } ]\n";
  const std::string before = snapshot("date: 2031-03-01", "K1: 100 mbar");
  const std::string after = snapshot("date: 2031-04-17", "K1: 5 mbar");

  TEST_CASE("is the newest reading before the last clearing") {
    CHECK(truth_of(condition, card(before + after, cleared)) == "yes");
  }
  TEST_CASE("is found by odometer, at the latest on the day of the clearing") {
    // At 90000 km it was no later than 2031-03-02, and on that day readings come first.
    const std::string events =
        "events: [ { what: fluid_service, date: 2031-03-02, odometer: 95000 km }, "
        "{ what: values_cleared, date: 2031-03-02 } ]\n";
    CHECK(truth_of(condition, card(at(90000, "K1: 100 mbar"), events)) == "yes");
    CHECK(truth_of(condition, card(at(96000, "K1: 100 mbar"), events)) == "unknown");
  }
  TEST_CASE("is unknown where nothing was cleared or nothing was read before") {
    CHECK(truth_of(condition, card(before + after)) == "unknown");
    CHECK(truth_of(condition, card(after, cleared)) == "unknown");
  }
  TEST_CASE("does not look behind a rebuild") {
    CHECK(truth_of(condition, card(before + after,
                                   "events: [ { what: values_cleared, date: 2031-03-04 }, "
                                   "{ what: drum_rebuilt of K1, date: 2031-03-03 } ]\n")) ==
          "unknown");
  }
}

TEST_SUITE("change") {
  const auto change = [](const std::string& how) { return "change of fill_pressure of K1 " + how; };

  TEST_CASE("is the newest less the one before it") {
    CHECK(truth_of(change("= 60 mbar"), card(at(1000, "K1: 0 mbar") + at(2000, "K1: 20 mbar") +
                                             at(3000, "K1: 80 mbar"))) == "yes");
  }
  TEST_CASE("below twice the scatter of a difference is no change") {
    CHECK(truth_of(change("= 0 mbar"), card(at(1000, "K1: 0 mbar") + at(2000, "K1: 56 mbar"))) ==
          "yes");
    CHECK(truth_of(change("= 57 mbar"), card(at(1000, "K1: 0 mbar") + at(2000, "K1: 57 mbar"))) ==
          "yes");
  }
  TEST_CASE("needs two snapshots of one software with no reset between") {
    const std::string second = at(2000, "K1: 100 mbar");
    CHECK(truth_of(change("> 0 mbar"), card(second)) == "unknown");
    CHECK(truth_of(change("> 0 mbar"),
                   card(at(1000, "K1: 0 mbar") + second,
                        "events: [ { what: values_cleared, odometer: 1500 km } ]\n")) == "unknown");
    const std::string a3 = snapshot("odometer: 1000 km, software: A3", "K1: 0 mbar");
    const std::string a4 = snapshot("odometer: 2000 km, software: A4", "K1: 100 mbar");
    CHECK(truth_of(change("> 0 mbar"), card(a3 + a4)) == "unknown");
    CHECK(truth_of(change("> 0 mbar"), card(a3 + second)) == "unknown");
  }
  TEST_CASE("passes over a snapshot that has no value of the element") {
    CHECK(truth_of(change("= 80 mbar"), card(at(1000, "K1: 0 mbar") + at(2000, "K2: 20 mbar") +
                                             at(3000, "K1: 80 mbar"))) == "yes");
  }
}

TEST_SUITE("slope") {
  const std::string ramp =
      at(10000, "K1: 0 mbar") + at(20000, "K1: 50 mbar") + at(30000, "K1: 100 mbar");

  TEST_CASE("is reading per distance") {
    CHECK(truth_of("slope of fill_pressure of K1 = 50 mbar per 10000 km", card(ramp)) == "yes");
    CHECK(truth_of("slope of fill_pressure of K1 > 51 mbar per 10000 km", card(ramp)) == "no");
  }
  TEST_CASE("needs three snapshots with different odometers") {
    CHECK(truth_of("slope of fill_pressure of K1 > 0 mbar per 10000 km",
                   card(at(10000, "K1: 0 mbar") + at(20000, "K1: 50 mbar"))) == "unknown");
    CHECK(truth_of("slope of fill_pressure of K1 > 0 mbar per 10000 km",
                   card(at(10000, "K1: 0 mbar") + at(20000, "K1: 50 mbar") +
                        snapshot("date: 2031-04-17", "K1: 90 mbar"))) == "unknown");
  }
  TEST_CASE("a rise below twice the scatter of a difference is flat") {
    CHECK(truth_of("slope of fill_pressure of K1 = 0 mbar per 10000 km",
                   card(at(10000, "K1: 0 mbar") + at(20000, "K1: 25 mbar") +
                        at(30000, "K1: 50 mbar"))) == "yes");
  }
  TEST_CASE("starts again after a reset") {
    CHECK(truth_of("slope of fill_pressure of K1 > 0 mbar per 10000 km",
                   card(ramp, "events: [ { what: values_cleared, odometer: 15000 km } ]\n")) ==
          "unknown");
  }
  TEST_CASE("does not go on across a fall of the odometer") {
    const std::string fall = snapshot("date: 2031-01-01, odometer: 90000 km", "K1: 0 mbar") +
                             snapshot("date: 2031-02-01, odometer: 10000 km", "K1: 50 mbar") +
                             snapshot("date: 2031-03-01, odometer: 20000 km", "K1: 100 mbar");
    CHECK(truth_of("slope of fill_pressure of K1 > 0 mbar per 10000 km", card(fall)) == "unknown");
  }
}

TEST_SUITE("step") {
  TEST_CASE("is the height of a jump, and nothing for a ramp") {
    const std::string jump = at(10000, "K1: 10 mbar") + at(20000, "K1: 12 mbar") +
                             at(30000, "K1: 100 mbar") + at(40000, "K1: 104 mbar");
    CHECK(truth_of("step of fill_pressure of K1 = 91 mbar", card(jump)) == "yes");
    const std::string ramp = at(10000, "K1: 0 mbar") + at(20000, "K1: 60 mbar") +
                             at(30000, "K1: 120 mbar") + at(40000, "K1: 180 mbar");
    CHECK(truth_of("step of fill_pressure of K1 = 0 mbar", card(ramp)) == "yes");
  }
  TEST_CASE("below twice the scatter of a difference is no step") {
    CHECK(truth_of("step of fill_pressure of K1 = 0 mbar",
                   card(at(10000, "K1: 0 mbar") + at(20000, "K1: 0 mbar") +
                        at(30000, "K1: 50 mbar") + at(40000, "K1: 50 mbar"))) == "yes");
  }
}

TEST_SUITE("shares and limits") {
  const auto today = [](const std::string& values) {
    return card(snapshot("date: 2031-04-17", values));
  };

  TEST_CASE("a limit share is signed and counts from the limit on its own side") {
    CHECK(truth_of("limit_share of fill_pressure of B2 = 50 %", today("B2: 200 mbar")) == "yes");
    CHECK(truth_of("limit_share of fill_pressure of B2 = -50 %", today("B2: -100 mbar")) == "yes");
    CHECK(truth_of("limit_share of fill_pressure of K1 >= 40 %", today("K1: 120 mbar")) == "yes");
    CHECK(truth_of("limit_share of fill_pressure of K1 >= 40 %", today("K1: -200 mbar")) == "no");
  }
  TEST_CASE("a watch share counts from the watch line") {
    CHECK(truth_of("watch_share of fill_pressure of K1 = 150 %", today("K1: 150 mbar")) == "yes");
  }
  TEST_CASE("a share of an unread value is unknown") {
    CHECK(truth_of("limit_share of fill_pressure of K1 >= 40 %", "complaint: {}") == "unknown");
  }
  TEST_CASE("scatter and limits are those of the profile, member by member") {
    CHECK(truth_of("scatter of fill_pressure of K1 = 20 mbar", "complaint: {}") == "yes");
    CHECK(truth_of("high_limit of fill_pressure of B2 = 400 mbar", "complaint: {}") == "yes");
    CHECK(truth_of("low_limit of fill_pressure of B2 = -200 mbar", "complaint: {}") == "yes");
    CHECK(truth_of("fill_pressure of K1 > high_limit of fill_pressure of K1",
                   today("K1: 301 mbar")) == "yes");
  }
  TEST_CASE("a median of shares takes each element's own limit") {
    CHECK(truth_of(
              "median of limit_share of fill_pressure of every element that is not rotating = 50 %",
              today("B1: 150 mbar, B2: 200 mbar")) == "yes");
  }
}
