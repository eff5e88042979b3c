#include "evaluation/open_facts.h"

#include <doctest/doctest.h>

#include "support/job_bench.h"

namespace slipcase::test {
namespace {

using evaluation::OpenFact;

// Invented.
constexpr std::string_view rules = R"(reading pressure of element : pressure
finding noise asks "Is there a noise?" otherwise in 1 of 100 jobs
finding odd when pressure of K1 > 100 mbar otherwise in 1 of 100 jobs
finding heat asks "Does it run hot?" otherwise in 1 of 100 jobs
detail old : yes or no asks "Is the car old?"
event cleared says "Values cleared"
cause pinion
  found in 10 of 100 jobs
  becomes 2 times as likely when old and happened cleared
  shows noise in 60 of 100 jobs
  shows odd in 60 of 100 jobs
distrust doubtful
  when odd or noise
  sets aside heat
  because "it is doubtful"
)";

struct OpenBench {
  explicit OpenBench(std::string_view card) : evaluator(job.shared_rules()) {
    evaluator.evaluate(job.facts(card));
  }

  JobBench job{rules};
  evaluation::Evaluator evaluator;
};

std::vector<OpenFact> open_for_becomes(std::string_view card) {
  OpenBench bench(card);
  return evaluation::open_facts(bench.evaluator, bench.job.rules().becomes.front().when);
}

TEST_CASE("a condition waits for every fact that nobody gave, and for no other") {
  CHECK(open_for_becomes("job: x\n").size() == 2);
  const auto rest = open_for_becomes("details: {old: yes}\n");
  REQUIRE(rest.size() == 1);
  CHECK(std::holds_alternative<grounding::GroundEvent>(rest[0]));
  CHECK(open_for_becomes("details: {old: yes}\nhistory: complete\n").empty());
}

TEST_CASE("a finding that nobody is asked for stands for what it is worked out from") {
  OpenBench bench("job: x\n");
  const auto facts =
      evaluation::open_facts(bench.evaluator, bench.job.rules().distrusts.front().when);
  REQUIRE(facts.size() == 2);
  CHECK(std::holds_alternative<grounding::GroundReading>(facts[0]));
  CHECK(std::get<grounding::GroundFinding>(facts[1]) == bench.job.finding("noise"));
}

}  // namespace
}  // namespace slipcase::test
