// A card that does not fit the rules or the unit: which message, at which place. Invented rules.
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "support/card_reading.h"
#include "support/job_bench.h"

using slipcase::test::JobBench;
using Lines = std::vector<std::string>;

namespace {

constexpr const char* rules = R"(
detail use : one of town, towing asks "Used how?"
detail towed : yes or no asks "Was it towed?"
detail odometer : distance
detail built : date asks "Built when?"
reading fill_pressure of element : pressure
event values_cleared
event battery_flat counts as values_cleared
event drum_rebuilt of element
finding flare of shift
    asks "Flare?"
    grade sometimes
    grade always
    otherwise sometimes or more in 2, always in 1 of 100 jobs
finding level_low asks "Low?" otherwise in 1 of 100 jobs
finding smell asks "Smell?" otherwise in 1 of 100 jobs
cause worn of element found in 1 of 50 jobs shows smell in 5 of 10 jobs
check level_at_temperature takes 20 minutes answers level_low, towed, fill_pressure of each element
check rock_test takes 10 minutes flags worn of K1 in 14 of 20 bad, in 2 of 20 good
check air_check of element takes 30 minutes flags worn of element in 14 of 20 bad, in 2 of 20 good
repair learning_drive takes 1 h cures worn of each element
)";

Lines said(const std::string& card) { return JobBench(rules).messages(card); }
std::string text(const std::string& card) { return JobBench(rules).message_text(card); }

}  // namespace

TEST_SUITE("names on a card") {
  TEST_CASE("an unknown name is reported where it stands, with the nearest valid one") {
    CHECK(said("answers: { levl_low: no }") == Lines{"1:12 card-unknown-name"});
    CHECK(text("answers: { levl_low: no }").find("did you mean `level_low`") != std::string::npos);
    CHECK(said("details: { usee: town }") == Lines{"1:12 card-unknown-name"});
    CHECK(said("events: [ { what: values_clear } ]") == Lines{"1:19 card-unknown-name"});
  }
  TEST_CASE("a suggestion that is not valid there says where on the card it is") {
    // `use` is a detail: nearer to `uses` than any finding, but no answer.
    CHECK(text("answers: { uses: no }")
              .ends_with("did you mean `use`? That is a detail: write it on the card under "
                         "`details:`"));
  }
  TEST_CASE("a thing of another kind is said to be one") {
    CHECK(said("answers: { use: town }") == Lines{"1:12 card-wrong-kind"});
    CHECK(said("events: [ { what: level_low } ]") == Lines{"1:19 card-wrong-kind"});
    CHECK(text("answers: { use: town }").find("`use` is a detail") != std::string::npos);
  }
  TEST_CASE("what was taken out of use is not unknown") {
    JobBench bench("finding gone asks \"Gone?\" otherwise in 1 of 9 jobs\nremove gone");
    CHECK(bench.messages("answers: { gone: yes }") == Lines{"1:12 card-unknown-name"});
    CHECK(bench.message_text("answers: { gone: yes }").find("out of use in your rules") !=
          std::string::npos);
  }
  TEST_CASE("an unknown part of the unit is reported at the part") {
    CHECK(said("answers: { flare: { 7-8: no } }") == Lines{"1:21 card-unknown-member"});
    CHECK(said("complaint: { findings: [ flare of K1 ] }") == Lines{"1:35 card-unknown-member"});
    CHECK(said("not_driven: [ K1 ]") == Lines{"1:15 card-unknown-member"});
  }
  TEST_CASE("which part is asked where it is missing, and refused where there is none") {
    CHECK(said("answers: { flare: no }") == Lines{"1:12 card-which-member"});
    CHECK(said("complaint: { findings: [ flare ] }") == Lines{"1:26 card-which-member"});
    CHECK(said("answers: { level_low: { K1: no } }") == Lines{"1:12 card-no-member"});
    CHECK(said("events: [ { what: battery_flat of K1 } ]") == Lines{"1:35 card-no-member"});
  }
  TEST_CASE("a card of another unit is refused") {
    CHECK(said("unit: five_speed") == Lines{"1:7 card-other-unit"});
    CHECK(said("unit: bench") == Lines{});
  }
  TEST_CASE("an unknown controller is refused") {
    CHECK(said("codes: { transmision: none }") == Lines{"1:10 card-unknown-controller"});
  }
  TEST_CASE("every mistake is reported in one run") {
    CHECK(said("answers: { levl_low: no, smell: purple }\ndetails: { use: boat }").size() == 3);
  }
}

TEST_SUITE("values on a card") {
  TEST_CASE("an answer is yes, no, a grade or not sure") {
    CHECK(said("answers: { smell: maybe }") == Lines{"1:19 card-answer-shape"});
    CHECK(said("answers: { flare: { 2-3: alwys } }") == Lines{"1:26 card-answer-shape"});
    CHECK(text("answers: { flare: { 2-3: alwys } }").find("did you mean `always`") !=
          std::string::npos);
    CHECK(said("answers: { smell: true, level_low: false }") == Lines{});
    CHECK(said("answers: { flare: { 2-3: always, 3-4: not sure, others: unknown } }") == Lines{});
  }
  TEST_CASE("yes and no are never guessed at") {
    for (const char* word : {"on", "off", "On", "Y", "n"}) {
      CAPTURE(word);
      CHECK(text(std::string("answers: { smell: ") + word + " }")
                .ends_with("is no answer to `smell`: write `yes` or `no`"));
    }
    CHECK(text("answers: { smell: nope }").ends_with("write `yes`, `no` or `not sure`"));
    CHECK(text("answers: { smell: ye }").ends_with("write `yes`, `no` or `not sure`"));
    CHECK(text("details: { built: 2031-4-7 }").ends_with("write `2031-04-07`"));
  }
  TEST_CASE("a detail takes its own words, and a day or a quantity in its own shape") {
    CHECK(said("details: { use: tawing }") == Lines{"1:17 card-unknown-word"});
    CHECK(said("details: { towed: often }") == Lines{"1:19 card-answer-shape"});
    CHECK(said("details: { built: 4/22/2031 }") == Lines{"1:19 card-date-shape"});
    CHECK(said("details: { odometer: 20 mbar }") == Lines{"1:22 value-unit-wrong"});
    CHECK(said("details: { odometer: 20000 }") == Lines{"1:22 value-unit-missing"});
  }
  TEST_CASE("a value outside what is possible is refused, one beyond its limit is kept") {
    const std::string read = "readings: [ { date: 2031-04-01, fill_pressure: { K1: ";
    CHECK(said(read + "501 mbar } } ]") == Lines{"1:54 card-impossible-value"});
    CHECK(said(read + "499 mbar } } ]") == Lines{});
    CHECK(said(read + "-501 mbar } } ]") == Lines{"1:54 card-impossible-value"});
  }
  TEST_CASE("a negative number shown without its sign is recognised in 16 and in 32 bits") {
    const std::string read = "readings: [ { date: 2031-04-01, fill_pressure: { K1: ";
    CHECK(text(read + "65416 mbar } } ]").find("`-120 mbar`") != std::string::npos);
    CHECK(text(read + "4294967176 mbar } } ]").find("`-120 mbar`") != std::string::npos);
    CHECK(text(read + "40000 mbar } } ]").find("sign") == std::string::npos);
    CHECK(text(read + "501 mbar } } ]").find("sign") == std::string::npos);
  }
  TEST_CASE("not learned is remembered, unknown is nothing") {
    const auto facts = JobBench(rules).facts(
        "readings: [ { date: 2031-04-01, fill_pressure: { K1: not learned, K2: unknown } } ]");
    using Said = slipcase::evaluation::ReadingFact::Said;
    CHECK(facts.readings[0].said == Said::not_learned);
    CHECK(facts.readings[1].said == Said::nothing);
  }
}

TEST_SUITE("what contradicts itself") {
  TEST_CASE("two different answers are refused, with both places") {
    CHECK(said("complaint: { findings: [ smell ] }\nanswers: { smell: no }") ==
          Lines{"1:26 card-contradiction"});
    CHECK(said("answers: { level_low: yes }\n"
               "checks: [ { done: level_at_temperature, found: { level_low: no } } ]") ==
          Lines{"2:61 card-contradiction"});
  }
  TEST_CASE("the same answer twice, or a stronger one, is no contradiction") {
    CHECK(said("complaint: { findings: [ flare of 2-3 ] }\nanswers: { flare: { 2-3: always } }") ==
          Lines{});
  }
  TEST_CASE("what the complaint, an answer or a check names is none of the others") {
    const std::string card =
        "complaint: { findings: [ flare of 2-3 ] }\n"
        "answers: { flare: { 3-4: sometimes, 1-2: not sure, others: no }, air_check: { others: no "
        "} }\n"
        "checks: [ { done: air_check, found: { K2: yes } } ]";
    CHECK(said(card) == Lines{});
    JobBench bench(rules);
    const auto facts = bench.facts(card);
    using Said = slipcase::evaluation::Answer::Said;
    const auto answer = [&](std::string_view finding) {
      return facts.answers[bench.finding(finding).at()].said;
    };
    CHECK(answer("flare of 2-3") == Said::yes);
    CHECK(answer("flare of 3-4") == Said::yes);
    CHECK(answer("flare of 1-2") == Said::not_sure);
    CHECK(answer("flare of 4-5") == Said::no);
    CHECK(answer("air_check of K2") == Said::yes);
    CHECK(answer("air_check of K1") == Said::no);
  }
  TEST_CASE("a detail given in two ways is refused") {
    CHECK(said("vehicle: { odometer: 100 km }\ndetails: { odometer: 200 km }").size() == 1);
    CHECK(said("vehicle: { odometer: 100 km }\ndetails: { odometer: 100000 m }") == Lines{});
  }
  TEST_CASE("what never happened cannot be recorded, under whatever name it counts") {
    CHECK(said("never: [ values_cleared ]\nevents: [ { what: battery_flat } ]") ==
          Lines{"1:10 card-happened-never"});
    CHECK(said("never: [ battery_flat ]\nevents: [ { what: values_cleared } ]") == Lines{});
  }
  TEST_CASE("an answer about what was not driven is refused") {
    CHECK(said("answers: { flare: { 5-6: no } }\nnot_driven: [ 6 ]") ==
          Lines{"1:26 card-not-driven"});
    CHECK(said("answers: { flare: { 5-6: unknown, others: no } }\nnot_driven: [ 6 ]") == Lines{});
  }
  TEST_CASE("a part cannot be confirmed bad and sound") {
    CHECK(said("outcome: { confirmed: [ worn of K1 ], sound: [ worn of K1 ] }") ==
          Lines{"1:25 card-confirmed-and-sound"});
  }
}

TEST_SUITE("checks on a card") {
  TEST_CASE("a check answers only what it answers") {
    CHECK(
        said("checks: [ { done: level_at_temperature, found: { level_low: no, towed: yes } } ]") ==
        Lines{});
    CHECK(said("checks: [ { done: level_at_temperature, found: { smell: no } } ]") ==
          Lines{"1:50 card-not-answered-here"});
    CHECK(text("checks: [ { done: level_at_temperature, found: { fill_pressure: 5 mbar } } ]")
              .find("under `readings`") != std::string::npos);
  }
  TEST_CASE("a check that is itself the finding is answered yes or no") {
    JobBench bench(rules);
    CHECK(bench.state("rock_test", "checks: [ { done: rock_test, found: no } ]") == "absent");
    CHECK(bench.state("rock_test", "checks: [ { done: rock_test, found: { rock_test: yes } } ]") ==
          "present");
    CHECK(said("checks: [ { done: rock_test, found: mount_broken } ]") ==
          Lines{"1:37 card-yes-no"});
    CHECK(said("checks: [ { done: rock_test, found: { smell: yes } } ]") ==
          Lines{"1:39 card-yes-no"});
  }
  TEST_CASE("a check of each element is answered element by element") {
    JobBench bench(rules);
    const std::string card = "checks: [ { done: air_check, found: { K2: yes, K1: no } } ]";
    CHECK(bench.state("air_check of K2", card) == "present");
    CHECK(bench.state("air_check of K1", card) == "absent");
    CHECK(bench.state("air_check of B1", card) == "unknown");
    CHECK(bench.state("air_check of K3", "checks: [ { done: air_check of K3, found: yes } ]") ==
          "present");
    CHECK(bench.facts(card).checks.size() == 2);
  }
}

TEST_SUITE("time on a card") {
  TEST_CASE("the day the job was opened is needed") {
    CHECK(said("job: J-1 # no opened: here") == Lines{"1:1 card-not-opened"});
  }
  TEST_CASE("an odometer that falls with the date is flagged, and does not stop the card") {
    const std::string card =
        "events:\n"
        "  - { what: values_cleared, date: 2031-01-01, odometer: 90000 km }\n"
        "  - { what: battery_flat, date: 2031-02-01, odometer: 10000 km }\n";
    CHECK(said(card) == Lines{"3:7 card-odometer-falls"});
    CHECK(JobBench(rules).facts(card).events.size() == 2);
  }
  TEST_CASE("a date after the job was opened is flagged until work is recorded") {
    const std::string card = "events: [ { what: values_cleared, date: 2031-05-01 } ]\n";
    CHECK(said(card) == Lines{"1:13 card-after-opened"});
    CHECK(said(card + "repairs: [ { done: learning_drive, date: 2031-05-01 } ]\n") == Lines{});
  }
  TEST_CASE("after needs an event of that day") {
    CHECK(said("readings: [ { date: 2031-04-01, after: values_cleared, "
               "fill_pressure: { K1: 0 mbar } } ]") == Lines{"1:40 card-after-nothing"});
  }
  TEST_CASE("after cannot go in a circle") {
    CHECK(said("events:\n"
               "  - { what: values_cleared, date: 2031-04-01, after: drum_rebuilt of K1 }\n"
               "  - { what: drum_rebuilt of K1, date: 2031-04-01, after: values_cleared }\n") ==
          Lines{"2:54 card-after-in-circle"});
  }
}
