// What a job card refuses, by the name of the message and the place it points at.
#include <doctest/doctest.h>

#include "facts/job_card.h"
#include "support/card_reading.h"

using slipcase::test::CardReading;

using Lines = std::vector<std::string>;

namespace {

Lines messages(const std::string& text) {
  const CardReading reading(text);
  CHECK(reading.usable() == reading.diagnostics.empty());
  return reading.messages();
}

std::string said(const std::string& text) { return CardReading(text).first_text(); }

}  // namespace

TEST_CASE("unknown keys are refused at every level") {
  CHECK(messages("job: J-1\ncolour: red\n") == Lines{"2:1 document-unknown-key"});
  CHECK(messages("vehicle: { odometr: 5 km }\n") == Lines{"1:12 document-unknown-key"});
  CHECK(messages("complaint: { findings: [], since: 2031 }\n") ==
        Lines{"1:28 document-unknown-key"});
  CHECK(messages("events:\n  - { what: x, when: 2031-01-01 }\n") ==
        Lines{"2:16 document-unknown-key"});
  CHECK(messages("checks:\n  - { done: x, result: no }\n") == Lines{"2:16 document-unknown-key"});
  CHECK(messages("repairs:\n  - { done: x, by: us }\n") == Lines{"2:16 document-unknown-key"});
  CHECK(messages("codes: [{ code: P0733, count: 3 }]\n") == Lines{"1:24 document-unknown-key"});
  CHECK(messages("outcome: { closd: 2031-05-02 }\n") == Lines{"1:12 document-unknown-key"});
  CHECK(said("vehicle: { odometr: 5 km }\n") ==
        "`odometr` is not known in `vehicle`, did you mean `odometer`?");
}

TEST_CASE("a key that is nearly the one needed is told once, at its place") {
  CHECK(messages("events:\n  - { waht: x, date: 2031-01-01 }\n") ==
        Lines{"2:7 document-unknown-key"});
  CHECK(messages("checks:\n  - { date: 2031-01-01, don: x }\n") ==
        Lines{"2:25 document-unknown-key"});
  CHECK(messages("checks:\n  - { date: 2031-01-01, result: x }\n") ==
        Lines{"2:7 document-missing-key", "2:25 document-unknown-key"});
  CHECK(said("events:\n  - { waht: x }\n") ==
        "`waht` is not known in an event, did you mean `what`?");
}

TEST_CASE("readings whose time is mistyped are told at that key") {
  CHECK(messages("readings: [{ dat: 2031-01-01, fill_time: { K1: 12 ms } }]\n") ==
        Lines{"1:14 card-time-missing"});
  CHECK(messages("readings: [{ fill_time: { K1: 12 ms }, odometr: 5 km }]\n") ==
        Lines{"1:40 card-time-missing"});
}

TEST_CASE("what was reported stays in the card as faulty, the rest as it was written") {
  const CardReading reading(
      "opened: 2031-02-30\n"
      "events: [{ what: Wash, date: 2031-01-01 }, { what: wash, date: 2031-01-32 }]\n"
      "answers: { flare: { 2/3: no, 3-4: }, whine: yes }\n");
  REQUIRE(reading.card);
  const auto& card = *reading.card;
  CHECK(card.faulty);
  CHECK(card.opened_faulty);
  REQUIRE(card.events.size() == 2);
  CHECK(card.events[0].what.name.faulty);
  CHECK_FALSE(card.events[0].when.faulty);
  CHECK(card.events[1].what.name.text == "wash");
  CHECK(card.events[1].when.faulty);
  REQUIRE(card.answers.size() == 2);
  using Values = std::vector<std::pair<slipcase::facts::Scalar, slipcase::facts::Scalar>>;
  const auto& flare = std::get<Values>(card.answers[0].value);
  REQUIRE(flare.size() == 2);
  CHECK(flare[0].first.faulty);
  CHECK_FALSE(flare[0].second.faulty);
  CHECK(flare[1].first.text == "3-4");
  CHECK(flare[1].second.faulty);
}

TEST_CASE("a text that is no card at all gives none") {
  for (const char* text : {"- a\n", "just a text\n", "[1, 2]", "a: [\n", ""}) {
    const CardReading reading(text);
    CHECK_FALSE(reading.card);
    CHECK(reading.diagnostics.error_count() == 1);
  }
}

TEST_CASE("a card is never so long that its parts cannot be held against each other") {
  std::string events = "events:\n";
  for (int i = 0; i < 10'000; ++i) events += "  - what: wash\n";
  CHECK(messages(events) == Lines{"6667:11 document-too-many-values"});
}

TEST_CASE("duplicate keys are refused, also where two spellings say the same") {
  CHECK(messages("job: J-1\njob: J-2\n") == Lines{"2:1 document-duplicate-key"});
  CHECK(messages("answers: { flare: { 2-3: no }, flare of 2-3: always }\n") ==
        Lines{"1:41 document-duplicate-key"});
  CHECK(messages("answers: { flare: { 2-3: no, 2\u20133: yes } }\n") ==
        Lines{"1:30 document-duplicate-key"});
}

TEST_CASE("units are required and must fit") {
  CHECK(messages("vehicle: { odometer: 148200 }\n") == Lines{"1:22 value-unit-missing"});
  CHECK(messages("vehicle: { odometer: 94 C }\n") == Lines{"1:22 value-unit-wrong"});
  CHECK(messages("vehicle: { odometer: 148200 KM }\n") == Lines{"1:22 value-unit-unknown"});
  CHECK(messages("vehicle: { odometer: \"91,400 miles\" }\n") == Lines{"1:22 value-number-shape"});
  CHECK(messages("vehicle: { odometer: 200 000 km }\n") == Lines{"1:22 value-number-shape"});
  CHECK(messages("vehicle: { odometer: .nan }\n") == Lines{"1:22 value-not-finite"});
  CHECK(messages("{\"vehicle\": { \"odometer\": 1e999 }}\n") == Lines{"1:27 value-not-finite"});
  CHECK(messages("repairs: [{ done: x, after: 1 month }]\n") == Lines{"1:29 value-unit-shape"});
  CHECK(messages("repairs: [{ done: x, after: 3 bar }]\n") == Lines{"1:29 value-unit-wrong"});
  CHECK(said("vehicle: { odometer: 148200 }\n") ==
        "`148200` has no unit: write it in `mm`, `cm`, `m`, `km`, `in`, `ft` or `miles`");
}

TEST_CASE("an odometer and a driven distance are not below zero") {
  CHECK(messages("vehicle: { odometer: -5 km }\n") == Lines{"1:22 card-odometer-negative"});
  CHECK(messages("repairs: [{ done: x, after: -5 km }]\n") == Lines{"1:29 value-out-of-range"});
  CHECK(messages("vehicle: { odometer: 0 km }\n").empty());
}

TEST_CASE("no temperature is below the absolute zero") {
  CHECK(messages("codes: [{ code: P0733, temperature: -300 C }]\n") ==
        Lines{"1:37 card-temperature-impossible"});
  CHECK(messages("codes: [{ code: P0733, temperature: -40 F }]\n").empty());
}

TEST_CASE("dates that do not exist or are written in another order are refused") {
  CHECK(messages("opened: 2031-02-30\n") == Lines{"1:9 value-no-such-day"});
  CHECK(messages("opened: 4/22/2031\n") == Lines{"1:9 value-date-shape"});
  CHECK(messages("opened: 2031-04-17 14:30\n") == Lines{"1:9 value-no-such-time"});
  CHECK(messages("events: [{ what: x, date: early March }]\n") == Lines{"1:27 card-not-a-day"});
  CHECK(messages("events: [{ what: x, date: 2031-04-17 14:30 }]\n").empty());
}

TEST_CASE("what is no trouble code is refused") {
  CHECK(messages("codes: [P73]\n") == Lines{"1:9 card-code-shape"});
  CHECK(messages("codes: { transmission: [P0733, X0733, [P0734]] }\n") ==
        Lines{"1:32 card-code-shape", "1:39 document-wrong-shape"});
  CHECK(messages("codes: [{ state: pending }]\n") == Lines{"1:11 document-missing-key"});
  CHECK(messages("codes: [{ code: P0733, state: pendng }]\n") == Lines{"1:31 card-word-unknown"});
  CHECK(messages("codes: { code: P0733 }\n") == Lines{"1:16 document-wrong-shape"});
}

TEST_CASE("codes with nothing behind them are no statement") {
  CHECK(messages("codes:\n") == Lines{"1:1 card-codes-empty"});
  CHECK(messages("codes: {}\n") == Lines{"1:8 card-codes-empty"});
  CHECK(messages("codes: { transmission: }\n") == Lines{"1:10 card-codes-empty"});
  CHECK(messages("{\"codes\": null}\n") == Lines{"1:2 card-codes-empty"});
}

TEST_CASE("names and references have one shape") {
  CHECK(messages("complaint: { findings: [Flare] }\n") == Lines{"1:25 card-name-shape"});
  CHECK(messages("complaint: { findings: [flare 2-3] }\n") == Lines{"1:25 card-reference-shape"});
  CHECK(messages("complaint: { findings: [flare of] }\n") == Lines{"1:25 card-reference-shape"});
  CHECK(messages("complaint: { findings: [\"\"] }\n") == Lines{"1:25 card-reference-shape"});
  CHECK(messages("never: [drum_rebuilt of K!]\n") == Lines{"1:25 card-member-shape"});
  CHECK(messages("answers: { 2-3: always }\n") == Lines{"1:12 card-name-shape"});
  CHECK(messages("answers: { flare: { \"2 3\": always } }\n") == Lines{"1:21 card-member-shape"});
  CHECK(messages("complaint: { findings: [{flare: always}] }\n") ==
        Lines{"1:26 document-wrong-shape"});
}

TEST_CASE("words that are one of a few are refused with what they can be") {
  CHECK(messages("history: whole\n") == Lines{"1:10 card-word-unknown"});
  CHECK(messages("events: [{ what: x, by: them }]\n") == Lines{"1:25 card-word-unknown"});
  CHECK(messages("repairs: [{ done: x, complaint: better }]\n") == Lines{"1:33 card-word-unknown"});
  CHECK(said("history: complet\n") ==
        "`complet` is not known for `history`, did you mean `complete`?");
  CHECK(said("history: whole\n") ==
        "`whole` is not known for `history`: write `partial` or `complete`");
}

TEST_CASE("readings need a date or an odometer") {
  CHECK(messages("readings:\n  - fill_time: { K1: 12 ms }\n") == Lines{"2:5 card-time-missing"});
  CHECK(messages("readings:\n  - { date: 2031-02-30, fill_time: { K1: 12 ms } }\n") ==
        Lines{"2:13 value-no-such-day"});
}

TEST_CASE("events, checks and repairs say what it was") {
  CHECK(messages("events: [{ date: 2031-04-17 }]\n") == Lines{"1:12 document-missing-key"});
  CHECK(messages("checks: [{ found: yes }]\n") == Lines{"1:12 document-missing-key"});
  CHECK(messages("repairs: [{ complaint: gone }]\n") == Lines{"1:13 document-missing-key"});
}

TEST_CASE("what a check found is yes or no for each") {
  CHECK(messages("checks: [{ done: x, found: [level_low] }]\n") == Lines{"1:29 card-found-shape"});
  CHECK(said("checks: [{ done: x, found: [level_low] }]\n") ==
        "`level_low` is answered `yes` (it showed) or `no`: `found: { level_low: yes }`");
  CHECK(messages("checks: [{ done: x, found: { level_low: } }]\n") ==
        Lines{"1:30 document-value-missing"});
}

TEST_CASE("parts of the wrong shape are refused where they open") {
  CHECK(messages("- job: J-1\n") == Lines{"1:1 document-wrong-shape"});
  CHECK(messages("J-1\n") == Lines{"1:1 document-wrong-shape"});
  CHECK(messages("vehicle: van\n") == Lines{"1:10 document-wrong-shape"});
  CHECK(messages("events:\n  what: x\n") == Lines{"2:3 document-wrong-shape"});
  CHECK(messages("details: [use]\n") == Lines{"1:10 document-wrong-shape"});
  CHECK(messages("details: { use: [towing] }\n") == Lines{"1:17 document-wrong-shape"});
  CHECK(messages("answers: { flare: { 2-3: { a: b } } }\n") == Lines{"1:28 document-wrong-shape"});
}

TEST_CASE("a value left empty is refused: leaving the key out means unknown") {
  CHECK(messages("vehicle:\n  odometer:\nopened: ~\n") ==
        Lines{"2:3 document-value-missing", "3:1 document-value-missing"});
  CHECK(messages("{\"answers\": {\"flare\": {\"2-3\": null}}}") ==
        Lines{"1:24 document-value-missing"});
}

TEST_CASE("all mistakes of a card are told in one run, in the order of the text") {
  CHECK(messages("jobb: J-1\n"
                 "opened: 2031-02-30\n"
                 "vehicle: { odometer: -5 km, ref: [a] }\n"
                 "answers: { Flare: yes }\n"
                 "codes: [P73, { code: P99, state: odd }]\n"
                 "readings:\n"
                 "  - { odometer: 5, fluid_temperature: 3 bar }\n"
                 "history: odd\n") ==
        Lines{"1:1 document-unknown-key", "2:9 value-no-such-day", "3:22 card-odometer-negative",
              "3:34 document-wrong-shape", "4:12 card-name-shape", "5:9 card-code-shape",
              "5:22 card-code-shape", "5:34 card-word-unknown", "7:17 value-unit-missing",
              "7:39 value-unit-wrong", "8:10 card-word-unknown"});
}

TEST_CASE("a card that begins well and ends badly gives no card") {
  const CardReading reading("job: J-1\nnote: \"never closed\n");
  CHECK_FALSE(reading.usable());
  CHECK(reading.messages() == Lines{"2:7 yaml-quote-missing"});
}

TEST_CASE("errors of an earlier stage do not fail a good card") {
  slipcase::SourceSet sources;
  const auto id = sources.add("card.yaml", "job: J-1\n");
  slipcase::Diagnostics diagnostics;
  diagnostics.add({"earlier"}, std::nullopt, "something else");
  CHECK(slipcase::facts::read_job_card(sources, id, diagnostics));
  CHECK(diagnostics.error_count() == 1);
}

TEST_CASE("a date is put in order only where the year comes first") {
  CHECK(said("opened: 2031-4-7\n") == "`2031-4-7` is not written as a date is: write `2031-04-07`");
  CHECK(said("opened: 2031/04/17\n").ends_with("write `2031-04-17`"));
  CHECK(said("opened: 2031.4.17\n").ends_with("write `2031-04-17`"));
  CHECK(said("opened: 2031-4-7 14:30\n").ends_with("write `2031-04-07`"));
  CHECK(
      said("events: [{ what: x, date: 2031-4-7 14:30 }]\n").ends_with("write `2031-04-07 14:30`"));
  CHECK(said("opened: 2031-22-4\n").find("`2031-04-22`") != std::string::npos);
  CHECK(said("opened: 7-4-2031\n").find("more than one way") != std::string::npos);
  CHECK(said("opened: 31-4-7\n").find("more than one way") != std::string::npos);
}

TEST_CASE("values that no vehicle can show are refused") {
  CHECK(messages("vehicle: { odometer: 1e30 km }\n") == Lines{"1:22 card-odometer-impossible"});
  CHECK(messages("vehicle: { odometer: 9999999 km }\n").empty());
  CHECK(messages("readings: [{ odometer: 5 km, fluid_temperature: 1000 C }]\n") ==
        Lines{"1:49 card-temperature-impossible"});
  CHECK(messages("readings: [{ odometer: 5 km, fluid_temperature: 215 C }]\n").empty());
  CHECK(messages("repairs: [{ done: x, after: 1e30 km }]\n") == Lines{"1:29 value-out-of-range"});
  CHECK(messages("repairs: [{ done: x, after: 100000 days }]\n") ==
        Lines{"1:29 value-out-of-range"});
}

TEST_CASE("a job is not closed before it is opened") {
  CHECK(messages("opened: 2031-04-17\noutcome: { closed: 2031-04-16 }\n") ==
        Lines{"2:20 card-closed-early"});
  CHECK(messages("opened: 2031-04-17\noutcome: { closed: 2031-04-17 }\n").empty());
  CHECK(messages("outcome: { closed: 2031-04-17 }\n").empty());
}

TEST_CASE("an entry of readings with nothing read is kept, with a warning") {
  const CardReading reading("readings: [{ date: 2031-04-17 }, { odometer: 5 km, software: A3 }]\n");
  CHECK(reading.usable());
  CHECK(reading.messages() == Lines{"1:14 card-reading-empty"});
  CHECK(reading.card->readings.size() == 2);
}

TEST_CASE("none among codes says how it is written") {
  CHECK(said("codes: [none]\n").ends_with("write `codes: none`"));
  CHECK(said("codes: { engine: [none] }\n").ends_with("write `engine: none`"));
}

TEST_CASE("how far it was driven is a distance or a time, and the message says both") {
  for (const char* after : {"3 apples", "3 bar", "3", "far"}) {
    CAPTURE(after);
    CHECK(said(std::string("repairs: [{ done: x, after: ") + after + " }]\n")
              .ends_with("write a distance such as `300 km`, or a time such as `30 days`"));
  }
}

TEST_CASE("a card that is a list, and a second one behind the first, are marked where they begin") {
  CHECK(messages("[{\"job\": \"J-1\"}]\n") == Lines{"1:1 document-wrong-shape"});
  CHECK(messages("{\"job\": \"J-1\"}\n{\"job\": \"J-2\"}\n") == Lines{"2:1 yaml-second-document"});
}

TEST_CASE("what turns the direction of writing is refused wherever it stands") {
  for (const char* sign : {"\u202A", "\u202E", "\u2066", "\u2069", "\u2028"}) {
    CAPTURE(sign);
    const std::string text = sign;
    CHECK(messages("job: a" + text + "b\n") == Lines{"1:6 text-control-character"});
    CHECK(messages("vehicle: { ref: \"a" + text + "\" }\n") ==
          Lines{"1:17 text-control-character"});
    CHECK(messages("{\"job\": \"a" + text + "\"}\n") == Lines{"1:9 text-control-character"});
  }
  CHECK(messages("job: \u05D0\u200F\n").empty());
}
