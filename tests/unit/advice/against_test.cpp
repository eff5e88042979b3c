#include "advice/against.h"

#include <cmath>

#include <doctest/doctest.h>

#include "support/job_bench.h"

namespace slipcase::test {
namespace {

using advice::JobModel;

// Invented. Both causes make the noise; the heat comes from one only, the smell from the other.
constexpr std::string_view against_rules = R"(finding noise
  asks "Is there a noise?"
  otherwise in 1 of 100 jobs
finding heat
  asks "Does it run hot?"
  otherwise in 10 of 100 jobs
finding smell
  asks "Does it smell?"
  otherwise in 5 of 100 jobs
finding colour
  asks "Is it blue?"
  otherwise in 20 of 100 jobs
cause bearing
  found in 20 of 100 jobs
  shows noise in 60 of 100 jobs
  shows heat in 80 of 100 jobs
cause pinion
  found in 10 of 100 jobs
  shows noise in 60 of 100 jobs
  shows smell in 50 of 100 jobs
check feel_case
  takes 5 minutes
  answers heat
)";

struct AgainstBench {
  explicit AgainstBench(std::string_view card)
      : job(against_rules),
        states(job.evaluate(card)),
        network(model::build_network(job.shared_rules(), diagnostics)),
        model(network, states, std::size_t{1} << 26) {}

  Against tell() {
    const auto now = std::get<network::Posterior>(model.solve(model.evidence()));
    return std::get<Against>(advice::tell_apart(model, advice::Ways(job.rules(), &facts), now,
                                                job.cause("bearing"), job.cause("pinion")));
  }

  JobBench job;
  evaluation::JobFacts facts;
  Diagnostics diagnostics;
  evaluation::Evaluation states;
  model::RuleNetwork network;
  JobModel model;
};

TEST_CASE("what both causes show alike does not separate them; their rates do") {
  const Against against = AgainstBench("answers: {noise: yes}\n").tell();
  CHECK(against.known.empty());
  // Odds of one without the other: 0.2 (1 - 0.1) to 0.1 (1 - 0.2), and the noise says the same.
  CHECK(against.log_odds == doctest::Approx(std::log(0.2 * 0.9 / (0.1 * 0.8))));
}

TEST_CASE("a known finding separates by how much better it fits the one") {
  const Against against = AgainstBench("answers: {noise: yes, smell: yes}\n").tell();
  REQUIRE(against.known.size() == 1);
  CHECK(against.known[0].finding == "smell");
  CHECK(against.known[0].log_factor == doctest::Approx(std::log(0.05 / 0.5)));
}

TEST_CASE("the most telling open finding comes first, with the check that answers it") {
  const Against against = AgainstBench("answers: {noise: yes}\n").tell();
  REQUIRE(against.unknown.size() == 2);  // the colour tells nothing
  CHECK(against.unknown[0].finding == "heat");
  CHECK(against.unknown[0].check == "feel_case");
  CHECK(against.unknown[0].if_this.value() == doctest::Approx(0.8));
  CHECK(against.unknown[0].if_other.value() == doctest::Approx(0.1));
  CHECK(against.unknown[1].finding == "smell");
  CHECK(against.unknown[1].check.empty());
  CHECK(against.unknown[1].found_by == "Does it smell?");

  // I(heat; which) by hand, with the share of "bearing without pinion" among the two.
  const double share = 0.2 * 0.9 / (0.2 * 0.9 + 0.1 * 0.8);
  const auto entropy = [](double p) { return -p * std::log2(p) - (1 - p) * std::log2(1 - p); };
  const double yes = share * 0.8 + (1 - share) * 0.1;
  CHECK(against.unknown[0].bits ==
        doctest::Approx(entropy(yes) - share * entropy(0.8) - (1 - share) * entropy(0.1)));
}

}  // namespace
}  // namespace slipcase::test
