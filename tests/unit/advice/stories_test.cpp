#include "advice/stories.h"

#include <doctest/doctest.h>

#include "support/job_bench.h"

namespace slipcase::test {
namespace {

// Invented. A flat battery wipes values; they may be wiped without one.
std::string rules_with(std::string_view battery_found) {
  return R"(finding near_zero
  asks "Do the values stand near zero?"
  otherwise in 1 of 100 jobs
cause battery
  found )" +
         std::string(battery_found) + R"(
  then causes wiped in 80 of 100 jobs
cause wiped
  found in 10 of 100 jobs
  shows near_zero in 90 of 100 jobs
)";
}

struct StoryBench {
  explicit StoryBench(std::string_view battery_found)
      : job(rules_with(battery_found)),
        states(job.evaluate("answers: {near_zero: yes}\n")),
        network(model::build_network(job.shared_rules(), diagnostics)),
        model(network, states, std::size_t{1} << 26),
        before(std::get<network::Posterior>(model.solve({}))),
        now(std::get<network::Posterior>(model.solve(model.evidence()))),
        stories(model, before, now) {}

  JobBench job;
  Diagnostics diagnostics;
  evaluation::Evaluation states;
  model::RuleNetwork network;
  advice::JobModel model;
  network::Posterior before, now;
  advice::Stories stories;
};

TEST_CASE("the cause that made the likeliest one in most jobs is the one to start with") {
  const StoryBench bench("in 20 of 100 jobs");
  const auto battery = bench.job.cause("battery");
  const auto wiped = bench.job.cause("wiped");
  REQUIRE(bench.model.chance(bench.now, wiped).value() >
          bench.model.chance(bench.now, battery).value());
  REQUIRE(bench.stories.lines().size() == 1);
  CHECK(bench.stories.first() == battery);
  CHECK(bench.stories.lines()[0].then == std::vector{wiped});
  CHECK(bench.stories.leader(bench.model, bench.now.hidden) == battery);
}

TEST_CASE(
    "the share of an origin is the chance that it made the consequence, not that it is there") {
  const StoryBench bench("in 20 of 100 jobs");
  REQUIRE(bench.stories.makings().size() == 1);
  // By hand: the link alone wipes in 1 - 0.2 / 0.9 of the jobs; wiped are 0.2 x 0.8 + 0.8 x 0.1.
  const double made = 0.2 * (1 - 0.2 / 0.9) / (0.2 * 0.8 + 0.8 * 0.1);
  CHECK(bench.stories.makings()[0].chance == doctest::Approx(made));
}

TEST_CASE("an origin that seldom made the consequence does not take it onto its line") {
  const StoryBench bench("in 2 of 100 jobs");
  const auto wiped = bench.job.cause("wiped");
  CHECK(bench.stories.first() == wiped);
  REQUIRE(bench.stories.lines().size() == 2);
  CHECK(bench.stories.lines()[0].then.empty());
  CHECK(bench.stories.makings().size() == 1);
}

TEST_CASE("under other chances the consequence leads once its origin is mostly absent") {
  const StoryBench bench("in 20 of 100 jobs");
  std::vector<Probability> other = bench.now.hidden;
  const auto battery = bench.job.cause("battery");
  other.at(bench.model.hidden(battery).at()) = *Probability::from(0.3);
  CHECK(bench.stories.leader(bench.model, other) == bench.job.cause("wiped"));
}

TEST_CASE("rules without a cause have nothing to start with") {
  JobBench job("finding noise asks \"Noise?\" otherwise in 1 of 10 jobs\n");
  Diagnostics diagnostics;
  const evaluation::Evaluation states = job.evaluate("answers: {noise: yes}\n");
  const auto network = model::build_network(job.shared_rules(), diagnostics);
  advice::JobModel model(network, states, std::size_t{1} << 26);
  const auto before = std::get<network::Posterior>(model.prior());
  const auto now = std::get<network::Posterior>(model.solve(model.evidence()));
  const advice::Stories stories(model, before, now);
  CHECK_FALSE(stories.first());
  CHECK_FALSE(stories.leader(model, now.hidden));
}

}  // namespace
}  // namespace slipcase::test
