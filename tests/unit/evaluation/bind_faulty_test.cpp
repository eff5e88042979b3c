// A card with mistakes of several kinds: all are told in one run, and none that only follows from
// another. Invented rules.
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "evaluation/bind.h"
#include "support/card_reading.h"
#include "support/job_bench.h"

using slipcase::test::JobBench;
using Lines = std::vector<std::string>;

namespace {

constexpr const char* faulty_card_rules = R"(
detail use : one of town, towing asks "Used how?"
detail odometer : distance
reading fill_pressure of element : pressure
event values_cleared
event battery_flat counts as values_cleared
finding flare of shift
    asks "Flare?"
    grade sometimes
    grade always
    otherwise sometimes or more in 2, always in 1 of 100 jobs
finding level_low asks "Low?" otherwise in 1 of 100 jobs
finding smell asks "Smell?" otherwise in 1 of 100 jobs
cause worn of element found in 1 of 50 jobs shows smell in 5 of 10 jobs
check level_at_temperature takes 20 minutes answers level_low
check air_check of element takes 30 minutes flags worn of element in 14 of 20 bad, in 2 of 20 good
repair learning_drive takes 1 h cures worn of each element
)";

Lines told(const std::string& card) { return JobBench(faulty_card_rules).messages(card); }
std::string told_text(const std::string& card) {
  return JobBench(faulty_card_rules).message_text(card);
}

}  // namespace

TEST_SUITE("all mistakes of a card in one run") {
  TEST_CASE("a wrong unit does not hide a name that the rules do not know") {
    CHECK(told("vehicle: { odometer: 5 }\nanswers: { levl_low: no }") ==
          Lines{"1:22 value-unit-missing", "2:12 card-unknown-name"});
  }
  TEST_CASE("a faulty part, its name and its value are each looked at by themselves") {
    CHECK(told("answers: { levl_low: , flare: { 2/3: alwys, 7-8: alwys } }") ==
          Lines{"1:12 document-value-missing", "1:12 card-unknown-name", "1:33 card-member-shape",
                "1:38 card-answer-shape", "1:45 card-unknown-member", "1:50 card-answer-shape"});
    CHECK(told("complaint: { findings: [ smel of 2/3 ] }") ==
          Lines{"1:26 card-unknown-name", "1:34 card-member-shape"});
    CHECK(told("readings: [ { date: 2031-04-01, fill_pressure: { K9: 3 C } } ]") ==
          Lines{"1:50 card-unknown-member", "1:54 value-unit-wrong"});
    CHECK(told("details: { use of K1: tawing }") ==
          Lines{"1:12 card-no-member", "1:23 card-unknown-word"});
    CHECK(told("answers: { flare: alwys }") ==
          Lines{"1:12 card-which-member", "1:19 card-answer-shape"});
  }
  TEST_CASE("an event that is not known is still held to its `after`") {
    CHECK(told("events: [ { what: values_clear, date: 2031-04-01, after: batery_flat } ]") ==
          Lines{"1:19 card-unknown-name", "1:58 card-unknown-name"});
  }
  TEST_CASE("what a check found is looked at although its part is not there") {
    CHECK(told("checks: [ { done: air_check of K9, found: mybe } ]") ==
          Lines{"1:32 card-unknown-member", "1:43 card-yes-no"});
    CHECK(told("checks: [ { done: air_check of K9, found: { air_check: mybe } } ]") ==
          Lines{"1:32 card-unknown-member", "1:56 card-yes-no"});
    CHECK(told_text("checks: [ { done: air_check, found: { K2: mybe } } ]") ==
          "`air_check` is answered `yes` (it showed) or `no`: `found: { K1: no }`");
  }
  TEST_CASE("a faulty card is never bound to facts") {
    JobBench bench(faulty_card_rules);
    slipcase::SourceSet sources;
    slipcase::Diagnostics diagnostics;
    const auto id = sources.add("card.yaml", "opened: 2031-04-17\nvehicle: { odometer: 5 }\n");
    const auto card = slipcase::facts::read_job_card(sources, id, diagnostics);
    REQUIRE(card);
    CHECK(card->faulty);
    slipcase::Diagnostics about_names;
    CHECK_FALSE(slipcase::evaluation::bind(bench.rules(), *card, about_names));
    CHECK(about_names.empty());
  }
}

TEST_SUITE("nothing that only follows from another mistake") {
  TEST_CASE("a day that cannot be read is not missing") {
    CHECK(told("opened: 2031-02-30") == Lines{"1:9 value-no-such-day"});
    CHECK(told("opened:") == Lines{"1:1 document-value-missing"});
    CHECK(told("opned: 2031-04-17 # for opened: no day") == Lines{"1:1 document-unknown-key"});
    CHECK(told("colour: red # and opened: no day") ==
          Lines{"1:1 document-unknown-key", "1:1 card-not-opened"});
  }
  TEST_CASE("the names on a card of another unit are not looked up") {
    CHECK(told("unit: five_speed\nanswers: { levl_low: no, flare: { 7-8: no } }") ==
          Lines{"1:7 card-other-unit"});
  }
  TEST_CASE("a value that is wrong for all others is told once") {
    CHECK(told("answers: { flare: { 2-3: no, others: alwys } }") ==
          Lines{"1:38 card-answer-shape"});
    CHECK(told("readings: [ { date: 2031-04-01, fill_pressure: { others: 65416 mbar } } ]") ==
          Lines{"1:58 card-impossible-value"});
  }
  TEST_CASE("the others are not all but one that was mistyped") {
    const std::string complaint = "complaint: { findings: [ flare of 2-3 ] }\n";
    CHECK(told(complaint + "answers: { flare: { 2-33: always, others: no } }") ==
          Lines{"2:21 card-unknown-member"});
    CHECK(told(complaint + "answers: { flare: { 2-3: , others: no } }") ==
          Lines{"2:21 document-value-missing"});
  }
  TEST_CASE("an answer written twice does not contradict itself as well") {
    CHECK(told("answers: { flare: { 2-3: no }, flare of 2-3: always }") ==
          Lines{"1:41 document-duplicate-key"});
  }
  TEST_CASE("a value that is missing is not asked for its part") {
    CHECK(told("answers: { flare: }") == Lines{"1:12 document-value-missing"});
    CHECK(told("checks: [ { done: air_check, found: } ]") == Lines{"1:30 document-value-missing"});
    CHECK(told("checks: [ { done: air_check, found: [ yes ] } ]") ==
          Lines{"1:39 card-found-shape"});
    CHECK(told("checks: [ { done: air_check, found: { K/1: yes } } ]") ==
          Lines{"1:39 card-name-shape"});
  }
  TEST_CASE("a mistyped key is not missing as well") {
    CHECK(told("events: [ { waht: values_cleared } ]") == Lines{"1:13 document-unknown-key"});
    CHECK(told("readings: [ { dat: 2031-04-01, fill_pressure: { K1: 0 mbar } } ]") ==
          Lines{"1:15 card-time-missing"});
    CHECK(told_text("readings: [ { dat: 2031-04-01 } ]").find("is `dat` meant as `date`?") !=
          std::string::npos);
  }
  TEST_CASE("`after` does not miss what may be there but could not be read") {
    const std::string reading =
        "readings: [ { date: 2031-04-01, after: values_cleared, fill_pressure: { K1: 0 mbar } } "
        "]\n";
    CHECK(told(reading + "events: [ { what: values_clear, date: 2031-04-01 } ]") ==
          Lines{"2:19 card-unknown-name"});
    CHECK(told(reading + "events: [ { what: values_cleared, date: 2031-04-31 } ]") ==
          Lines{"2:41 value-no-such-day"});
    CHECK(told(reading + "events: [ values_cleared ]") == Lines{"2:11 document-wrong-shape"});
    CHECK(told(reading + "evnts: [ { what: values_cleared, date: 2031-04-01 } ]") ==
          Lines{"2:1 document-unknown-key"});
    CHECK(told("readings: [ { date: 2031-04-31, after: values_cleared, fill_pressure: { K1: 0 mbar "
               "} } ]") == Lines{"1:21 value-no-such-day"});
    // On another day it would not be the one.
    CHECK(told(reading + "events: [ { what: values_clear, date: 2031-03-01 } ]") ==
          Lines{"1:40 card-after-nothing", "2:19 card-unknown-name"});
  }
  TEST_CASE("no date is late where it may be that work was done") {
    const std::string event = "events: [ { what: values_cleared, date: 2031-05-01 } ]\n";
    CHECK(told(event + "chekcs: [ { done: level_at_temperature } ]") ==
          Lines{"2:1 document-unknown-key"});
  }
}

TEST_CASE("an odometer that falls is shown where it stands") {
  CHECK(told("vehicle: { odometer: 100 km }\n"
             "events: [ { what: values_cleared, date: 2031-01-01, odometer: 90000 km } ]") ==
        Lines{"1:22 card-odometer-falls"});
  CHECK(told("details: { odometer: 200 km }\nvehicle: { odometer: 100 km }") ==
        Lines{"2:22 card-contradiction"});
}
