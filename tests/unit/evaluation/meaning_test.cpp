// The table of exact meanings in docs/functions.md, row by row and direction by direction.
// Cards are invented; every one is opened on 2031-04-17.
#include <string>

#include <doctest/doctest.h>

#include "support/truth_of.h"

using slipcase::test::truth_of;

namespace {

// One snapshot of today.
std::string today(const std::string& values) {
  return "readings:\n  - date: 2031-04-17\n    odometer: 100000 km\n    fill_pressure: { " +
         values + " }\n";
}

std::string events(const std::string& list) { return "events: [ " + list + " ]\n"; }

const char* const complete = "history: complete\n";

}  // namespace

TEST_SUITE("any, every, no, at least") {
  const std::string any = "any element ( mark of element )";
  const std::string every = "every element ( mark of element )";
  const std::string none = "no element ( mark of element )";

  TEST_CASE("any is true if one is, whatever the others are") {
    CHECK(truth_of(any, "answers: { mark: { K1: yes } }") == "yes");
  }
  TEST_CASE("any is false only if all are false") {
    CHECK(truth_of(any, "answers: { mark: { others: no } }") == "no");
    CHECK(truth_of(any, "answers: { mark: { K1: unknown, others: no } }") == "unknown");
  }
  TEST_CASE("every is false if one is, and true only if all are true") {
    CHECK(truth_of(every, "answers: { mark: { K1: no } }") == "no");
    CHECK(truth_of(every, "answers: { mark: { others: yes } }") == "yes");
    CHECK(truth_of(every, "answers: { mark: { K1: not sure, others: yes } }") == "unknown");
  }
  TEST_CASE("no is true only if all are false, and false if one is true") {
    CHECK(truth_of(none, "answers: { mark: { others: no } }") == "yes");
    CHECK(truth_of(none, "answers: { mark: { K1: yes } }") == "no");
    CHECK(truth_of(none, "answers: { mark: { K1: unknown, others: no } }") == "unknown");
  }
  TEST_CASE("at least n is true if n are true") {
    CHECK(truth_of("at least 2 elements ( mark of element )",
                   "answers: { mark: { K1: yes, B2: yes } }") == "yes");
  }
  TEST_CASE("at least n is false only if the true and the unknown together are fewer") {
    const std::string three = "at least 3 elements ( mark of element )";
    CHECK(truth_of(three, "answers: { mark: { K1: yes, K2: unknown, others: no } }") == "no");
    CHECK(truth_of(three, "answers: { mark: { K1: yes, K2: unknown, K3: unknown, others: no } }") ==
          "unknown");
  }
  TEST_CASE("a share of the members is rounded up to whole members") {
    const std::string most = "at least 70 % of elements ( mark of element )";
    CHECK(truth_of(most, "answers: { mark: { K1: yes, K2: yes, K3: yes, others: no } }") == "no");
    CHECK(truth_of(most, "answers: { mark: { K1: no, others: yes } }") == "yes");
  }
  TEST_CASE("over an empty selection everything is unknown") {
    CHECK(truth_of("any element that is unused ( mark of element )",
                   "answers: { mark: { others: yes } }") == "unknown");
    CHECK(truth_of("every element that is unused ( mark of element )",
                   "answers: { mark: { others: yes } }") == "unknown");
    CHECK(truth_of("no element that is unused ( mark of element )",
                   "answers: { mark: { others: no } }") == "unknown");
  }
  TEST_CASE("a selection takes only the members with the mark") {
    CHECK(truth_of("every element that is rotating ( mark of element )",
                   "answers: { mark: { B1: no, B2: no, others: yes } }") == "yes");
    CHECK(truth_of("every element that is not rotating ( mark of element )",
                   "answers: { mark: { B1: no, others: yes } }") == "no");
  }
  TEST_CASE("a selection follows a relation of the unit") {
    // 2-3 applies K2 and releases B1.
    CHECK(truth_of("any element applied_by 2-3 ( mark of element )",
                   "answers: { mark: { K2: yes, others: no } }") == "yes");
    CHECK(truth_of("any element applied_by 2-3 ( mark of element )",
                   "answers: { mark: { K2: no, others: yes } }") == "no");
  }
  TEST_CASE("other means not the one outside") {
    const std::string alone =
        "any element ( mark of element and no other element ( mark of element ) )";
    CHECK(truth_of(alone, "answers: { mark: { K1: yes, others: no } }") == "yes");
    CHECK(truth_of(alone, "answers: { mark: { K1: yes, K2: yes, others: no } }") == "no");
  }
}

TEST_SUITE("and, or, not") {
  TEST_CASE("not unknown is unknown") {
    CHECK(truth_of("not smell", "complaint: {}") == "unknown");
    CHECK(truth_of("not smell", "answers: { smell: not sure }") == "unknown");
  }
  TEST_CASE("one no makes an and false, one yes makes an or true, unknown or not") {
    CHECK(truth_of("smell and noise", "answers: { smell: no }") == "no");
    CHECK(truth_of("noise and smell", "answers: { smell: no }") == "no");
    CHECK(truth_of("smell or noise", "answers: { noise: yes }") == "yes");
    CHECK(truth_of("noise or smell", "answers: { noise: yes }") == "yes");
  }
  TEST_CASE("and is unknown with a yes, or with a no") {
    CHECK(truth_of("smell and noise", "answers: { smell: yes }") == "unknown");
    CHECK(truth_of("smell or noise", "answers: { smell: no }") == "unknown");
  }
  TEST_CASE("a thing that is unknown is known to be unknown") {
    CHECK(truth_of("smell is known", "answers: { smell: not sure }") == "no");
    CHECK(truth_of("smell is known", "answers: { smell: no }") == "yes");
    CHECK(truth_of("use is known", "complaint: {}") == "no");
    CHECK(truth_of("towed is known", "details: { towed: no }") == "yes");
    CHECK(truth_of("fill_pressure of K1 is known", today("K1: 0 mbar")) == "yes");
    CHECK(truth_of("fill_pressure of K2 is known", today("K1: 0 mbar")) == "no");
  }
}

TEST_SUITE("grades") {
  TEST_CASE("a stronger grade counts as the weaker one") {
    CHECK(truth_of("flare of 2-3 at least sometimes", "answers: { flare: { 2-3: always } }") ==
          "yes");
    CHECK(truth_of("flare of 2-3 at least always", "answers: { flare: { 2-3: sometimes } }") ==
          "no");
  }
  TEST_CASE("a plain yes leaves the stronger grade open") {
    CHECK(truth_of("flare of 2-3", "answers: { flare: { 2-3: yes } }") == "yes");
    CHECK(truth_of("flare of 2-3 at least always", "answers: { flare: { 2-3: yes } }") ==
          "unknown");
  }
}

TEST_SUITE("details and quantities") {
  TEST_CASE("a word is compared with a word") {
    CHECK(truth_of("use is towing", "details: { use: towing }") == "yes");
    CHECK(truth_of("use is towing", "details: { use: town }") == "no");
    CHECK(truth_of("use is towing", "complaint: {}") == "unknown");
  }
  TEST_CASE("the odometer of the card is the detail of that name") {
    CHECK(truth_of("odometer > 200000 km", "vehicle: { odometer: 200001 km }") == "yes");
    CHECK(truth_of("odometer > 200000 km", "vehicle: { odometer: 200000 km }") == "no");
    CHECK(truth_of("odometer > 200000 km", "complaint: {}") == "unknown");
  }
  TEST_CASE("units are converted before anything is compared") {
    CHECK(truth_of("odometer = 100 km", "vehicle: { odometer: 100000 m }") == "yes");
    CHECK(truth_of("fill_pressure of K1 = 0.2 bar", today("K1: 200 mbar")) == "yes");
    CHECK(truth_of("fill_pressure of K1 < 0.2 bar", today("K1: 200 mbar")) == "no");
    CHECK(truth_of("fill_pressure of K1 <= 0.2 bar", today("K1: 200 mbar")) == "yes");
    CHECK(truth_of("sump >= 50 °C", "details: { sump: 122 °F }") == "yes");
  }
  TEST_CASE("between takes both ends in") {
    CHECK(truth_of("fill_pressure of K1 between 100 mbar and 200 mbar", today("K1: 200 mbar")) ==
          "yes");
    CHECK(truth_of("fill_pressure of K1 between 100 mbar and 200 mbar", today("K1: 201 mbar")) ==
          "no");
  }
  TEST_CASE("within reads the distance on both sides") {
    CHECK(truth_of("fill_pressure of K1 within 15 mbar of zero", today("K1: -15 mbar")) == "yes");
    CHECK(truth_of("fill_pressure of K1 within 15 mbar of zero", today("K1: -16 mbar")) == "no");
    CHECK(truth_of("fill_pressure of K1 within 15 mbar of fill_pressure of K2",
                   today("K1: 100 mbar, K2: 90 mbar")) == "yes");
    CHECK(truth_of("fill_pressure of K1 within 15 mbar of zero", today("K2: 1 mbar")) == "unknown");
  }
  TEST_CASE("dates are compared as days") {
    CHECK(truth_of("built < 2020-01-01", "details: { built: 2019-12-31 }") == "yes");
    CHECK(truth_of("built < 2020-01-01", "details: { built: 2020-01-01 }") == "no");
  }
  TEST_CASE("minus takes one value from another") {
    CHECK(truth_of("fill_pressure of K1 minus fill_pressure of K2 > 50 mbar",
                   today("K1: 100 mbar, K2: 40 mbar")) == "yes");
    CHECK(truth_of("fill_pressure of K1 minus fill_pressure of K2 > 50 mbar",
                   today("K1: 100 mbar")) == "unknown");
  }
}

TEST_SUITE("median, largest, spread with gaps") {
  const std::string median = "median of fill_pressure of every element > 100 mbar";

  TEST_CASE("three of five decide the median whatever the other two are") {
    CHECK(truth_of(median, today("K1: 150 mbar, K2: 160 mbar, K3: 170 mbar")) == "yes");
    CHECK(truth_of(median, today("K1: 10 mbar, K2: 20 mbar, K3: 30 mbar")) == "no");
  }
  TEST_CASE("two of five do not decide the median") {
    CHECK(truth_of(median, today("K1: 150 mbar, K2: 160 mbar")) == "unknown");
  }
  TEST_CASE("the median of an even number is the mean of the two in the middle") {
    const std::string of_two = "median of fill_pressure of every element that is not rotating";
    CHECK(truth_of(of_two + " = 15 mbar", today("B1: 10 mbar, B2: 20 mbar")) == "yes");
  }
  TEST_CASE("one large value decides the largest, one gap leaves a small one open") {
    const std::string largest = "largest of fill_pressure of every element > 100 mbar";
    CHECK(truth_of(largest, today("K1: 150 mbar")) == "yes");
    CHECK(truth_of(largest, today("K1: 0 mbar, K2: 0 mbar, K3: 0 mbar, B1: 0 mbar, B2: 0 mbar")) ==
          "no");
    CHECK(truth_of(largest, today("K1: 0 mbar, K2: 0 mbar, K3: 0 mbar, B1: 0 mbar")) == "unknown");
  }
  TEST_CASE("the spread is at least that of the known values") {
    const std::string spread = "spread of fill_pressure of every element > 100 mbar";
    CHECK(truth_of(spread, today("K1: -60 mbar, K2: 60 mbar")) == "yes");
    CHECK(truth_of(spread, today("K1: -40 mbar, K2: 40 mbar")) == "unknown");
    CHECK(truth_of(spread,
                   today("K1: -40 mbar, K2: 40 mbar, K3: 0 mbar, B1: 0 mbar, B2: 0 mbar")) == "no");
  }
  TEST_CASE("one gap cannot stand at both of its ends") {
    // K1 lies from -500 to 500 mbar, the others at 0: the spread is at most 500 mbar.
    const std::string zero = today("K2: 0 mbar, K3: 0 mbar, B1: 0 mbar, B2: 0 mbar");
    CHECK(truth_of("spread of fill_pressure of every element <= 500 mbar", zero) == "yes");
    CHECK(truth_of("spread of fill_pressure of every element <= 499 mbar", zero) == "unknown");
  }
  TEST_CASE("what the profile calls impossible is not waited for") {
    CHECK(truth_of("largest of fill_pressure of every element <= 700 mbar", today("K1: 0 mbar")) ==
          "yes");
  }
}

TEST_SUITE("events") {
  const std::string cleared = "{ what: values_cleared, date: 2031-03-02 }";
  const std::string drive = "{ what: learning_drive, date: 2031-03-05 }";

  TEST_CASE("what is recorded happened") {
    CHECK(truth_of("happened values_cleared", events(cleared)) == "yes");
    CHECK(truth_of("on card values_cleared", events(cleared)) == "yes");
  }
  TEST_CASE("what is not recorded did not happen only where the history is complete") {
    CHECK(truth_of("happened values_cleared", "history: partial") == "unknown");
    CHECK(truth_of("happened values_cleared", complete) == "no");
    CHECK(truth_of("happened values_cleared", "never: [values_cleared]") == "no");
  }
  TEST_CASE("never of one event says nothing of another") {
    CHECK(truth_of("happened fluid_service", "never: [values_cleared]") == "unknown");
    CHECK(truth_of("happened drum_rebuilt of K2", "never: [drum_rebuilt of K1]") == "unknown");
    CHECK(truth_of("happened drum_rebuilt of K1", "never: [drum_rebuilt of K1]") == "no");
  }
  TEST_CASE("on card is never unknown") {
    CHECK(truth_of("on card values_cleared", "history: partial") == "no");
    CHECK(truth_of("on card values_cleared by us", events(cleared)) == "no");
  }
  TEST_CASE("an event counts as another, and not the other way round") {
    const std::string flat = events("{ what: battery_flat, date: 2031-03-02 }");
    CHECK(truth_of("happened values_cleared", flat) == "yes");
    CHECK(truth_of("happened battery_flat", events(cleared)) == "unknown");
  }
  TEST_CASE(
      "if values were never cleared the battery was never flat, but not the other way round") {
    CHECK(truth_of("happened battery_flat", "never: [values_cleared]") == "no");
    CHECK(truth_of("happened values_cleared", "never: [battery_flat]") == "unknown");
  }
  TEST_CASE("by whose hand is unknown where it is not said") {
    CHECK(truth_of("happened values_cleared by us", events(cleared)) == "unknown");
    const std::string ours = events("{ what: values_cleared, date: 2031-03-02, by: us }");
    CHECK(truth_of("happened values_cleared by us", ours + complete) == "yes");
    CHECK(truth_of("happened values_cleared by others", ours + complete) == "no");
  }
  TEST_CASE("a repair that was done is an event by us") {
    const std::string done = "repairs: [ { done: learning_drive, date: 2031-03-05 } ]\n";
    CHECK(truth_of("happened learning_drive by us", done) == "yes");
  }

  const std::string since = "happened learning_drive since values_cleared";
  TEST_CASE("A since B where B certainly never happened is unknown") {
    CHECK(truth_of(since, events(drive) + "never: [values_cleared]\n") == "unknown");
  }
  TEST_CASE("A recorded after the last B is true") {
    CHECK(truth_of(since, events(cleared + ", " + drive)) == "yes");
  }
  TEST_CASE("A before the last B is false where the history of A is complete, else unknown") {
    const std::string later = "{ what: values_cleared, date: 2031-03-09 }";
    const std::string list = events(cleared + ", " + drive + ", " + later);
    CHECK(truth_of(since, list) == "unknown");
    CHECK(truth_of(since, list + complete) == "no");
    CHECK(truth_of("on card learning_drive since values_cleared", list) == "no");
  }
  TEST_CASE(
      "A since a B that may have happened unseen is open, and false if there is no A at all") {
    CHECK(truth_of(since, events(drive)) == "unknown");
    CHECK(truth_of(since, "never: [learning_drive]") == "no");
  }
  TEST_CASE("an event is not after itself, where it counts as the other one") {
    const std::string flat = events("{ what: battery_flat, date: 2031-03-02 }") + complete;
    CHECK(truth_of("happened battery_flat since values_cleared", flat) == "no");
    CHECK(truth_of("on card battery_flat since values_cleared", flat) == "no");
  }
  TEST_CASE("two events of one day are in no order unless the card says so") {
    const std::string drive_then = "{ what: learning_drive, date: 2031-03-02 }";
    CHECK(truth_of(since, events(cleared + ", " + drive_then)) == "unknown");
    const std::string marked = "{ what: learning_drive, date: 2031-03-02, after: values_cleared }";
    CHECK(truth_of(since, events(cleared + ", " + marked)) == "yes");
    const std::string timed =
        "{ what: values_cleared, date: 2031-03-02 08:00 }, "
        "{ what: learning_drive, date: 2031-03-02 11:30 }";
    CHECK(truth_of(since, events(timed)) == "yes");
  }
  TEST_CASE("an odometer orders as well as a date") {
    CHECK(truth_of(since, events("{ what: values_cleared, odometer: 90000 km }, "
                                 "{ what: learning_drive, odometer: 90100 km }")) == "yes");
    CHECK(truth_of(since, events("{ what: values_cleared, odometer: 90000 km }, "
                                 "{ what: learning_drive, date: 2031-03-05 }")) == "unknown");
  }
  TEST_CASE("a date and an odometer are ordered through what has both") {
    const std::string tie = ", { what: fluid_service, date: 2031-01-10, odometer: 95000 km }";
    CHECK(truth_of(since, events("{ what: values_cleared, odometer: 90000 km }, "
                                 "{ what: learning_drive, date: 2031-03-05 }" +
                                 tie)) == "yes");
  }
}

TEST_SUITE("time since, distance since, at most after") {
  TEST_CASE("time since counts whole days up to the day the job was opened") {
    const std::string card = events("{ what: values_cleared, date: 2031-03-18 }");
    CHECK(truth_of("time since values_cleared = 30 days", card) == "yes");
    CHECK(truth_of("time since values_cleared < 30 days", card) == "no");
  }
  TEST_CASE("since what certainly never happened is infinite") {
    CHECK(truth_of("time since values_cleared > 36500 days", complete) == "yes");
    CHECK(truth_of("distance since drum_rebuilt of K1 < 5000 km", "never: [drum_rebuilt of K1]") ==
          "no");
  }
  TEST_CASE("since what may have happened is unknown") {
    CHECK(truth_of("time since values_cleared > 30 days", "history: partial") == "unknown");
  }
  TEST_CASE("distance since counts from the odometer of the event to that of the job") {
    const std::string card = "vehicle: { odometer: 100000 km }\n" +
                             events("{ what: drum_rebuilt of K1, odometer: 96000 km }");
    CHECK(truth_of("distance since drum_rebuilt of K1 < 5000 km", card) == "yes");
    CHECK(truth_of("distance since drum_rebuilt of K1 < 4000 km", card) == "no");
    CHECK(truth_of("distance since drum_rebuilt of K2 < 5000 km", card) == "unknown");
  }
  TEST_CASE("the last of several counts") {
    const std::string card = events(
        "{ what: values_cleared, date: 2031-01-01 }, "
        "{ what: values_cleared, date: 2031-04-07 }");
    CHECK(truth_of("time since values_cleared = 10 days", card) == "yes");
  }
  TEST_CASE("an odometer is bounded by what has both date and odometer") {
    // Between 95000 km in January and 100000 km today: at most 5000 km ago.
    const std::string card = "vehicle: { odometer: 100000 km }\n" +
                             events(
                                 "{ what: fluid_service, date: 2031-01-10, odometer: 95000 km }, "
                                 "{ what: values_cleared, date: 2031-03-02 }");
    CHECK(truth_of("distance since values_cleared <= 5000 km", card) == "yes");
    CHECK(truth_of("distance since values_cleared < 1000 km", card) == "unknown");
  }
  TEST_CASE("a distance across a fall of the odometer is unknown") {
    const std::string card =
        "vehicle: { odometer: 20000 km }\n" +
        events("{ what: fluid_service, date: 2030-01-10, odometer: 95000 km }");
    CHECK(truth_of("distance since fluid_service < 1000000 km", card) == "unknown");
    CHECK(truth_of("time since fluid_service > 365 days", card) == "yes");
  }

  const std::string soon = "values_cleared at most 30 days after fluid_service";
  TEST_CASE("B at most 30 days after A") {
    CHECK(truth_of(soon, events("{ what: fluid_service, date: 2031-01-01 }, "
                                "{ what: values_cleared, date: 2031-01-31 }")) == "yes");
    CHECK(truth_of(soon, events("{ what: fluid_service, date: 2031-01-01 }, "
                                "{ what: values_cleared, date: 2031-02-01 }")) == "no");
  }
  TEST_CASE("B at most 30 days after A is false if B came first") {
    CHECK(truth_of(soon, events("{ what: values_cleared, date: 2031-01-01 }, "
                                "{ what: fluid_service, date: 2031-01-10 }")) == "no");
  }
  TEST_CASE("B soon after A is open where one of them may have happened unseen") {
    const std::string card = events("{ what: fluid_service, date: 2031-01-01 }");
    CHECK(truth_of(soon, card) == "unknown");
    CHECK(truth_of(soon, card + complete) == "no");
  }
  TEST_CASE("a distance can be asked for as well") {
    CHECK(truth_of("values_cleared at most 500 km after fluid_service",
                   events("{ what: fluid_service, odometer: 90000 km }, "
                          "{ what: values_cleared, odometer: 90400 km }")) == "yes");
  }
}

TEST_SUITE("trouble codes") {
  TEST_CASE("a listed code is stored") {
    CHECK(truth_of("stored P0733", "codes: [ P0733 ]") == "yes");
    CHECK(truth_of("stored P0731 to P0736", "codes: [ P0733 ]") == "yes");
  }
  TEST_CASE("a code that is not listed is absent only if its controller was read") {
    CHECK(truth_of("stored P0733", "complaint: {}") == "unknown");
    CHECK(truth_of("stored P0733", "codes: none") == "no");
    CHECK(truth_of("stored P0733", "codes: [ P0741 ]") == "no");
    CHECK(truth_of("stored P0733", "codes: { engine: none }") == "unknown");
    CHECK(truth_of("stored P0301", "codes: [ P0741 ]") == "unknown");
    CHECK(truth_of("stored P0301", "codes: { transmission: none, engine: none }") == "no");
  }
  TEST_CASE("a range over two controllers needs both of them") {
    CHECK(truth_of("stored P0400 to P0750", "codes: { transmission: none }") == "unknown");
    CHECK(truth_of("stored P0400 to P0750", "codes: { transmission: none, engine: none }") == "no");
  }
  TEST_CASE("a code nobody is said to hold belongs to the unit's own controller") {
    CHECK(truth_of("stored U0100", "codes: none") == "no");
    CHECK(truth_of("stored U0100", "codes: { engine: none }") == "unknown");
  }
  TEST_CASE("pending is not stored and stored is not pending") {
    const std::string pending = "codes: [ { code: P0733, state: pending } ]";
    CHECK(truth_of("stored P0733", pending) == "no");
    CHECK(truth_of("pending P0733", pending) == "yes");
    CHECK(truth_of("pending P0733", "codes: [ P0733 ]") == "no");
  }
  TEST_CASE("a family means the code of that member") {
    CHECK(truth_of("any gear ( stored ratio_code of gear )", "codes: [ P0736 ]") == "yes");
    CHECK(truth_of("stored ratio_code of 3", "codes: [ P0733 ]") == "yes");
    CHECK(truth_of("stored ratio_code of 3", "codes: [ P0734 ]") == "no");
  }
  TEST_CASE("a member without a code of the family stays unknown") {
    CHECK(truth_of("stored ratio_code of 6", "codes: none") == "unknown");
  }
}

TEST_SUITE("ratio error") {
  const std::string speeds =
      "readings: [ { date: 2031-04-17, turbine_speed: { 4: 2402 rpm }, output_speed: { 4: 2000 rpm "
      "} } ]";

  TEST_CASE("the ratio error is turbine speed less ratio times output speed") {
    // 4th is 1.151 in the invented six-speed: 2302 rpm would be right.
    CHECK(truth_of("ratio_error of 4 > 95 rpm", speeds) == "yes");
    CHECK(truth_of("ratio_error of 4 > 105 rpm", speeds) == "no");
  }
  TEST_CASE("without both speeds it is unknown") {
    CHECK(truth_of("ratio_error of 3 > 95 rpm", speeds) == "unknown");
  }
}
