#include "evaluation/explanation.h"

#include <string>

#include <doctest/doctest.h>

#include "support/job_bench.h"

using namespace slipcase;
using test::JobBench;

namespace {

constexpr const char* explained_rules = R"(
reading fill_pressure of element : pressure
event values_cleared
finding up of element
    when fill_pressure of element > 100 mbar and not happened values_cleared
    otherwise in 1 of 100 jobs
finding smell asks "Does it smell?" otherwise in 1 of 100 jobs
)";

}  // namespace

TEST_SUITE("explaining a finding") {
  TEST_CASE("each part of its condition says what it came to and from which fact of the card") {
    JobBench bench(explained_rules);
    evaluation::Evaluator evaluator(bench.shared_rules());
    evaluator.evaluate(bench.facts(
        "readings: [ { date: 2031-04-17, fill_pressure: { K1: 90 mbar } } ]\nhistory: complete\n"));
    const auto why = evaluation::explain(evaluator, bench.finding("up of K1"));
    CHECK(why.state.state == evaluation::State::absent);
    REQUIRE(why.grades.size() == 1);
    CHECK(why.grades[0].truth == evaluation::Truth::no);
    REQUIRE(why.grades[0].parts.size() == 2);
    const auto& pressure = why.grades[0].parts[0];
    CHECK(pressure.truth == evaluation::Truth::no);
    REQUIRE(pressure.facts.size() == 1);
    CHECK(pressure.facts[0].text == "fill_pressure of K1: 90 mbar");
    CHECK(pressure.facts[0].place.has_value());
    const auto& cleared = why.grades[0].parts[1];
    CHECK(cleared.truth == evaluation::Truth::no);
    CHECK(cleared.facts[0].text == "values_cleared: never happened");
    CHECK_FALSE(cleared.facts[0].place.has_value());
  }
  TEST_CASE("an asked finding says where it was answered") {
    JobBench bench(explained_rules);
    evaluation::Evaluator evaluator(bench.shared_rules());
    evaluator.evaluate(bench.facts("answers: { smell: yes }\n"));
    const auto why = evaluation::explain(evaluator, bench.finding("smell"));
    CHECK(why.answer.said == evaluation::Answer::Said::yes);
    CHECK(why.answer.place.has_value());
    CHECK(why.grades.empty());
  }
  TEST_CASE("explaining changes nothing") {
    JobBench bench(explained_rules);
    evaluation::Evaluator evaluator(bench.shared_rules());
    const auto facts = bench.facts("answers: { smell: yes }\n");
    const auto before = evaluator.evaluate(facts).findings.size();
    (void)evaluation::explain(evaluator, bench.finding("up of K1"));
    CHECK(evaluator.current().findings.size() == before);
    CHECK(evaluator.current().findings[bench.finding("up of K1").at()].state ==
          evaluation::State::unknown);
  }
}
