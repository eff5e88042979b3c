// What an evaluation says about findings, distrusts and causes. Rules and cards are invented; every
// card is opened on 2031-04-17.
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "support/job_bench.h"

using namespace slipcase;
using evaluation::Basis;
using evaluation::Truth;
using test::JobBench;

namespace {

constexpr const char* state_rules = R"(
detail use : one of town, towing asks "Used how?"
detail odometer : distance
reading fill_pressure of element : pressure
event values_cleared
event battery_flat counts as values_cleared
event drum_rebuilt of element
event codes_cleared

finding both_up of element
    grade raised when limit_share of fill_pressure of element >= 40 %
    grade high   when limit_share of fill_pressure of element >= 70 %
    otherwise raised or more in 4, high in 1 of 100 jobs
finding low of element
    when limit_share of fill_pressure of element <= -40 %
    otherwise in 1 of 100 jobs
finding odd of element asks "Odd?" otherwise in 1 of 100 jobs
at most one per element of both_up, low, odd
finding any_up when any element ( both_up of element ) otherwise in 1 of 100 jobs
finding all_near_zero
    when every element ( fill_pressure of element within 15 mbar of zero )
    otherwise in 1 of 100 jobs
finding smell asks "Does it smell?" otherwise in 1 of 100 jobs
finding towed_hot when use is towing otherwise in 1 of 100 jobs
finding smell_again when not smell otherwise in 1 of 100 jobs
finding rise of element
    when slope of fill_pressure of element > 10 mbar per 10000 km
    otherwise in 1 of 100 jobs

distrust values_unlearned
    when happened values_cleared and not on card learning_drive since values_cleared
    sets aside fill_pressure
    except all_near_zero
    judge only not_learned
    until learning_drive
    because "values were cleared and no learning drive is recorded"
distrust nose_blocked
    when happened codes_cleared
    sets aside smell, use
    not judged burnt
    until learning_drive
    because "invented"

cause worn of element
    found in 1 of 50 jobs
    group hard_part
    becomes 3 times as likely when odometer > 200000 km
    never when distance since drum_rebuilt of element < 5000 km
    possible only when use is towing
    shows both_up of element raised or more in 7, high in 5 of 10 jobs
cause burnt found in 1 of 50 jobs shows smell in 5 of 10 jobs
cause not_learned found in 1 of 50 jobs shows any_up in 5 of 10 jobs
repair learning_drive takes 1 h cures not_learned
)";

const std::string cleared = "events: [ { what: values_cleared, date: 2031-03-02 } ]\n";
const std::string none_cleared = "never: [ values_cleared, codes_cleared ]\n";

std::string pressures_today(const std::string& values) {
  return "readings: [ { date: 2031-04-17, fill_pressure: { " + values + " } } ]\n";
}

evaluation::FindingState state(JobBench& bench, const char* name, const std::string& card) {
  return bench.evaluate(card).findings.at(bench.finding(name).at());
}

}  // namespace

TEST_SUITE("answers and worked-out values") {
  TEST_CASE("a finding is worked out, and says so") {
    JobBench bench(state_rules);
    const auto high = state(bench, "both_up of K1", none_cleared + pressures_today("K1: 230 mbar"));
    CHECK(high.state == evaluation::State::present);
    CHECK(high.at_least == 2);
    CHECK(high.at_most == 2);
    CHECK(high.basis == Basis::worked_out);
    const auto raised =
        state(bench, "both_up of K1", none_cleared + pressures_today("K1: 150 mbar"));
    CHECK(raised.at_least == 1);
    CHECK(raised.at_most == 1);
    const auto none = state(bench, "both_up of K1", none_cleared + pressures_today("K1: 10 mbar"));
    CHECK(none.state == evaluation::State::absent);
    CHECK(none.at_most == 0);
  }
  TEST_CASE("nothing asked and nothing read is unknown") {
    JobBench bench(state_rules);
    const auto open = state(bench, "both_up of K1", "");
    CHECK(open.state == evaluation::State::unknown);
    CHECK(open.at_least == 0);
    CHECK(open.at_most == 2);
    CHECK(open.basis == Basis::nothing);
  }
  TEST_CASE("an answer wins over a worked-out value, and the contradiction is listed") {
    JobBench bench(state_rules);
    const auto result = bench.evaluate(none_cleared + pressures_today("K1: 230 mbar") +
                                       "answers: { both_up: { K1: no } }\n");
    const auto finding = bench.finding("both_up of K1");
    CHECK(result.findings[finding.at()].state == evaluation::State::absent);
    CHECK(result.findings[finding.at()].basis == Basis::answer);
    REQUIRE(result.contradictions.size() == 1);
    CHECK(result.contradictions[0].finding == finding);
  }
  TEST_CASE("an answer that agrees is no contradiction, and is made no weaker") {
    JobBench bench(state_rules);
    const auto result = bench.evaluate(none_cleared + pressures_today("K1: 230 mbar") +
                                       "answers: { both_up: { K1: yes } }\n");
    CHECK(result.contradictions.empty());
    CHECK(result.findings[bench.finding("both_up of K1").at()].at_least == 2);
  }
  TEST_CASE("a different grade is a contradiction") {
    JobBench bench(state_rules);
    const auto result = bench.evaluate(none_cleared + pressures_today("K1: 230 mbar") +
                                       "answers: { both_up: { K1: raised } }\n");
    CHECK(result.contradictions.size() == 1);
    CHECK(result.findings[bench.finding("both_up of K1").at()].at_most == 1);
  }
  TEST_CASE("not sure leaves the worked-out value") {
    JobBench bench(state_rules);
    CHECK(bench.state("both_up of K1", none_cleared + pressures_today("K1: 230 mbar") +
                                           "answers: { both_up: { K1: not sure } }\n") ==
          "present");
  }
  TEST_CASE("a complaint is a present finding") {
    JobBench bench(state_rules);
    const auto said = state(bench, "smell", "complaint: { findings: [ smell ] }\n" + none_cleared);
    CHECK(said.state == evaluation::State::present);
    CHECK(said.basis == Basis::answer);
    CHECK(said.said_at.has_value());
  }
  TEST_CASE("a complaint does not hide that the answer is stronger") {
    JobBench bench(state_rules);
    const auto said = state(bench, "both_up of K1",
                            "complaint: { findings: [ both_up of K1 ] }\n"
                            "answers: { both_up: { K1: high } }\n");
    CHECK(said.at_least == 2);
  }
}

TEST_SUITE("distrusts") {
  TEST_CASE("a reading that is set aside leaves its findings set aside, with the reason") {
    JobBench bench(state_rules);
    const auto result = bench.evaluate(cleared + pressures_today("K1: 230 mbar"));
    const auto& finding = result.findings[bench.finding("both_up of K1").at()];
    CHECK(finding.state == evaluation::State::set_aside);
    CHECK(finding.distrust == 0U);
    CHECK(result.distrusts[0].applies == Truth::yes);
    CHECK(result.distrusts[0].snapshots == std::vector<std::uint32_t>{0});
  }
  TEST_CASE("what was never read is unknown, not set aside") {
    JobBench bench(state_rules);
    CHECK(bench.state("both_up of K2", cleared + pressures_today("K1: 230 mbar")) == "unknown");
  }
  TEST_CASE("a finding named by except still reads what is set aside") {
    JobBench bench(state_rules);
    CHECK(bench.state("all_near_zero",
                      cleared + pressures_today("K1: 0 mbar, K2: 0 mbar, K3: 1 mbar, "
                                                "B1: 0 mbar, B2: 5 mbar")) == "present");
  }
  TEST_CASE("what ends it ends it") {
    JobBench bench(state_rules);
    const std::string drive = "repairs: [ { done: learning_drive, date: 2031-03-05 } ]\n";
    CHECK(bench.state("both_up of K1", cleared + drive + pressures_today("K1: 230 mbar")) ==
          "present");
  }
  TEST_CASE("snapshots are judged as of their own day") {
    JobBench bench(state_rules);
    // Read before the clearing: clean. Read after it and before the drive: set aside.
    const std::string card = "vehicle: { odometer: 50000 km }\n" + cleared +
                             "repairs: [ { done: learning_drive, date: 2031-04-01 } ]\n"
                             "readings:\n"
                             "  - { date: 2031-02-20, fill_pressure: { K1: 10 mbar } }\n"
                             "  - { date: 2031-03-20, fill_pressure: { K1: 230 mbar } }\n"
                             "  - { date: 2031-04-10, fill_pressure: { K1: 150 mbar } }\n";
    const auto result = bench.evaluate(card);
    CHECK(result.distrusts[0].applies == Truth::no);
    CHECK(result.distrusts[0].snapshots == std::vector<std::uint32_t>{1});
    CHECK(result.findings[bench.finding("both_up of K1").at()].at_least == 1);
  }
  TEST_CASE("a trend is made of the snapshots that are not set aside") {
    JobBench bench(R"(
reading fill_pressure of element : pressure
event loan_unit_in
event loan_unit_out
finding rise of element
    when slope of fill_pressure of element = 50 mbar per 10000 km
    otherwise in 1 of 100 jobs
cause worn found in 1 of 50 jobs
cause loose found in 1 of 50 jobs
distrust another_unit
    when happened loan_unit_in and not on card loan_unit_out since loan_unit_in
    sets aside fill_pressure
    not judged worn
    until loan_unit_out
    because "another control unit was in the car"
)");
    const std::string loan =
        "events: [ { what: loan_unit_in, odometer: 15000 km }, "
        "{ what: loan_unit_out, odometer: 25000 km } ]\n";
    const std::string read =
        "readings:\n"
        "  - { odometer: 10000 km, fill_pressure: { K1: 0 mbar } }\n"
        "  - { odometer: 20000 km, fill_pressure: { K1: 300 mbar } }\n"
        "  - { odometer: 22000 km, fill_pressure: { K1: 300 mbar } }\n"
        "  - { odometer: 30000 km, fill_pressure: { K1: 100 mbar } }\n"
        "  - { odometer: 40000 km, fill_pressure: { K1: 150 mbar } }\n";
    CHECK(bench.state("rise of K1", loan + read) == "present");
    CHECK(bench.state("rise of K1", "never: [ loan_unit_in ]\n" + read) == "absent");
  }
  TEST_CASE("a finding stays set aside as long as too few of its snapshots are clean") {
    JobBench bench(state_rules);
    const std::string read =
        "readings:\n"
        "  - { odometer: 10000 km, fill_pressure: { K1: 0 mbar } }\n"
        "  - { odometer: 20000 km, fill_pressure: { K1: 50 mbar } }\n"
        "  - { odometer: 30000 km, fill_pressure: { K1: 100 mbar } }\n";
    CHECK(bench.state("rise of K1", none_cleared + read) == "present");
    CHECK(bench.state("rise of K1",
                      read + "events: [ { what: values_cleared, odometer: 5000 km } ]\n") ==
          "set aside");
  }
  TEST_CASE("a distrust wins over an answer and over a worked-out value") {
    JobBench bench(state_rules);
    const std::string codes_cleared = "events: [ { what: codes_cleared, date: 2031-04-02 } ]\n";
    const auto result = bench.evaluate(codes_cleared + "answers: { smell: yes }\n");
    CHECK(result.findings[bench.finding("smell").at()].state == evaluation::State::set_aside);
    CHECK(result.findings[bench.finding("smell").at()].distrust == 1U);
  }
  TEST_CASE("a set-aside finding is unknown in a condition") {
    JobBench bench(state_rules);
    const std::string codes_cleared = "events: [ { what: codes_cleared, date: 2031-04-02 } ]\n";
    CHECK(bench.state("smell_again", none_cleared + "answers: { smell: no }\n") == "present");
    CHECK(bench.state("smell_again", codes_cleared + "answers: { smell: no }\n") == "unknown");
  }
  TEST_CASE("a set-aside detail leaves what asks for it set aside") {
    JobBench bench(state_rules);
    const std::string codes_cleared = "events: [ { what: codes_cleared, date: 2031-04-02 } ]\n";
    CHECK(bench.state("towed_hot", none_cleared + "details: { use: towing }\n") == "present");
    CHECK(bench.state("towed_hot", codes_cleared + "details: { use: towing }\n") == "set aside");
  }
  TEST_CASE("judge only leaves every other cause unjudged, not judged the one it names") {
    JobBench bench(state_rules);
    const auto result = bench.evaluate(cleared + "never: [ codes_cleared ]\n");
    CHECK(result.judged[bench.cause("not_learned").at()]);
    CHECK_FALSE(result.judged[bench.cause("worn of K2").at()]);
    CHECK(result.not_judged_by[bench.cause("worn of K2").at()] == 0U);
    CHECK_FALSE(result.judged[bench.cause("burnt").at()]);
    const auto other = bench.evaluate(
        "never: [ values_cleared ]\nevents: [ { what: codes_cleared, "
        "date: 2031-04-02 } ]\n");
    CHECK(other.judged[bench.cause("worn of K2").at()]);
    CHECK_FALSE(other.judged[bench.cause("burnt").at()]);
  }
  TEST_CASE("an unknown distrust is not applied, and listed") {
    JobBench bench(state_rules);
    const auto result = bench.evaluate(pressures_today("K1: 230 mbar"));
    CHECK(result.findings[bench.finding("both_up of K1").at()].state == evaluation::State::present);
    CHECK(result.distrusts[0].applies == Truth::unknown);
    CHECK(result.judged[bench.cause("burnt").at()]);
    REQUIRE(result.undecided.size() >= 2);
    CHECK(result.undecided[0].kind == evaluation::Undecided::Kind::distrust);
    CHECK(result.undecided[0].index == 0);
  }
}

TEST_SUITE("at most one") {
  const std::string up = none_cleared + pressures_today("K1: 230 mbar");

  TEST_CASE("one present leaves the others out, of that element only") {
    JobBench bench(state_rules);
    const auto result = bench.evaluate(up);
    CHECK(result.findings[bench.finding("low of K1").at()].state == evaluation::State::left_out);
    CHECK(result.findings[bench.finding("odd of K1").at()].state == evaluation::State::left_out);
    CHECK(result.findings[bench.finding("odd of K2").at()].state == evaluation::State::unknown);
    CHECK(result.clashes.empty());
  }
  TEST_CASE("none present leaves nothing out") {
    JobBench bench(state_rules);
    CHECK(bench.state("low of K1", none_cleared + pressures_today("K1: 0 mbar")) == "absent");
  }
  TEST_CASE("two present clash, and both are left out") {
    JobBench bench(state_rules);
    const auto result = bench.evaluate(up + "answers: { odd: { K1: yes } }\n");
    CHECK(result.findings[bench.finding("odd of K1").at()].state == evaluation::State::left_out);
    CHECK(result.findings[bench.finding("both_up of K1").at()].state ==
          evaluation::State::left_out);
    REQUIRE(result.clashes.size() == 1);
    CHECK(result.clashes[0].present.size() == 2);
  }
  TEST_CASE("conditions see the value a finding had, and nothing of one that clashes") {
    JobBench bench(state_rules);
    CHECK(bench.state("any_up", up) == "present");
    CHECK(bench.state("any_up", up + "answers: { odd: { K1: yes } }\n") == "unknown");
  }
}

TEST_SUITE("what makes causes more or less likely") {
  TEST_CASE("becomes is yes, no or unknown for each member") {
    JobBench bench(state_rules);
    const auto far = bench.evaluate("vehicle: { odometer: 200001 km }\n");
    CHECK(far.becomes == std::vector<Truth>(5, Truth::yes));
    const auto near = bench.evaluate("vehicle: { odometer: 1000 km }\n");
    CHECK(near.becomes == std::vector<Truth>(5, Truth::no));
    CHECK(bench.evaluate("").becomes == std::vector<Truth>(5, Truth::unknown));
  }
  TEST_CASE("never when true takes the cause of that member out") {
    JobBench bench(state_rules);
    const auto result = bench.evaluate(
        "vehicle: { odometer: 100000 km }\ndetails: { use: towing }\n"
        "events: [ { what: drum_rebuilt of K2, odometer: 99000 km } ]\n");
    CHECK_FALSE(result.possible[bench.cause("worn of K2").at()]);
    CHECK(result.possible[bench.cause("worn of K1").at()]);
  }
  TEST_CASE("possible only when false takes the cause out, unknown does not") {
    JobBench bench(state_rules);
    CHECK_FALSE(
        bench.evaluate("details: { use: town }\n").possible[bench.cause("worn of K1").at()]);
    CHECK(bench.evaluate("").possible[bench.cause("worn of K1").at()]);
  }
  TEST_CASE("unknown conditions are listed, decided ones are not") {
    JobBench bench(state_rules);
    using Kind = evaluation::Undecided::Kind;
    const auto count = [](const evaluation::Evaluation& result, Kind kind) {
      std::size_t n = 0;
      for (const auto& entry : result.undecided) n += entry.kind == kind ? 1U : 0U;
      return n;
    };
    const auto open = bench.evaluate("");
    CHECK(count(open, Kind::becomes) == 5);
    CHECK(count(open, Kind::restriction) == 10);
    CHECK(count(open, Kind::distrust) == 2);
    const auto decided = bench.evaluate(
        "vehicle: { odometer: 1000 km }\ndetails: { use: town }\n"
        "history: complete\n");
    CHECK(decided.undecided.empty());
  }
}

TEST_SUITE("what was not driven") {
  constexpr const char* driving = R"(
finding flare of shift asks "Flare?" otherwise in 1 of 100 jobs
finding wrong_ratio of gear when stored ratio_code of gear otherwise in 1 of 100 jobs
finding by_number when stored P0735 otherwise in 1 of 100 jobs
finding by_range when stored P0734 to P0736 otherwise in 1 of 100 jobs
)";

  TEST_CASE("no code says nothing of a gear that was not driven, a code does") {
    JobBench bench(driving);
    CHECK(bench.state("wrong_ratio of 5", "codes: none\n") == "absent");
    CHECK(bench.state("wrong_ratio of 5", "codes: none\nnot_driven: [ 5 ]\n") == "unknown");
    CHECK(bench.state("wrong_ratio of 4", "codes: none\nnot_driven: [ 5 ]\n") == "absent");
    CHECK(bench.state("wrong_ratio of 5", "codes: [ P0735 ]\nnot_driven: [ 5 ]\n") == "present");
  }
  TEST_CASE("nor where the rule names the code by its number") {
    JobBench bench(driving);
    for (const char* finding : {"by_number", "by_range"}) {
      CHECK(bench.state(finding, "codes: none\n") == "absent");
      CHECK(bench.state(finding, "codes: none\nnot_driven: [ 5 ]\n") == "unknown");
      CHECK(bench.state(finding, "codes: none\nnot_driven: [ 3 ]\n") == "absent");
      CHECK(bench.state(finding, "codes: [ P0735 ]\nnot_driven: [ 5 ]\n") == "present");
    }
  }
  TEST_CASE("others does not speak of shifts into a gear that was not driven") {
    JobBench bench(driving);
    const std::string card = "answers: { flare: { others: no } }\nnot_driven: [ 6 ]\n";
    CHECK(bench.state("flare of 4-5", card) == "absent");
    CHECK(bench.state("flare of 5-6", card) == "unknown");
    CHECK(bench.state("flare of 6-5", card) == "unknown");
  }
}
