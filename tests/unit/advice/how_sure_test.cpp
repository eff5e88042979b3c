#include "advice/how_sure.h"

#include <doctest/doctest.h>
#include <fmt/core.h>

#include "support/job_bench.h"

namespace slipcase::test {
namespace {

using advice::JobModel;
using advice::Spread;

/// Invented; the same shares with ever more jobs behind them.
std::string rivals(unsigned times) {
  const auto count = [times](unsigned k, unsigned n) {
    return fmt::format("in {} of {} jobs\n", k * times, n * times);
  };
  return "finding noise\n  asks \"Is there a noise?\"\n  otherwise " + count(1, 50) +
         "cause bearing\n  found " + count(2, 20) + "  shows noise " + count(6, 10) +
         "cause pinion\n  found " + count(1, 20) + "  shows noise " + count(6, 10);
}

struct SureBench {
  explicit SureBench(unsigned times)
      : job(rivals(times)),
        states(job.evaluate("answers: {noise: yes}\n")),
        network(model::build_network(job.shared_rules(), diagnostics)),
        model(network, states, std::size_t{1} << 26),
        before(std::get<network::Posterior>(model.solve({}))),
        now(std::get<network::Posterior>(model.solve(model.evidence()))),
        stories(model, before, now) {}

  Spread bearing(std::uint64_t seed = 1) {
    return advice::how_sure(model, stories, 400, seed).at(job.cause("bearing").at());
  }
  double chance() {
    const auto posterior = std::get<network::Posterior>(model.solve(model.evidence()));
    return model.chance(posterior, job.cause("bearing")).value();
  }

  JobBench job;
  Diagnostics diagnostics;
  evaluation::Evaluation states;
  model::RuleNetwork network;
  JobModel model;
  network::Posterior before, now;
  advice::Stories stories;
};

TEST_CASE("the interval holds the chance and shrinks as the counts grow") {
  double last = 1.0;
  for (const unsigned times : {1U, 10U, 100U}) {
    SureBench bench(times);
    const Spread spread = bench.bearing();
    CHECK(spread.low < bench.chance());
    CHECK(spread.high > bench.chance());
    CHECK(spread.high - spread.low < 0.7 * last);
    last = spread.high - spread.low;
  }
}

TEST_CASE("the more jobs behind the counts, the surer which cause comes first") {
  const double few = SureBench(1).bearing().first;
  const double many = SureBench(100).bearing().first;
  CHECK(few > 0.5);
  CHECK(few < 0.95);
  CHECK(many > 0.99);
}

TEST_CASE("the same seed gives the same intervals") {
  SureBench bench(1);
  CHECK(bench.bearing(3).low == bench.bearing(3).low);
  CHECK(bench.bearing(3).low != bench.bearing(4).low);
}

}  // namespace
}  // namespace slipcase::test
