// Repairs that did not help, as evidence about what is left. Rules and numbers are invented; the
// expected chances are worked out by hand from the definition.
#include "advice/tried.h"

#include <cmath>
#include <string>

#include <doctest/doctest.h>

#include "advice/explain.h"
#include "advice/rank_job.h"
#include "support/job_bench.h"
#include "unit/advice/two_rivals.h"

namespace slipcase::test {
namespace {

const std::string two_rivals_and_repairs = std::string(two_rivals) + R"(repair new_bearing
  takes 60 minutes
  cures bearing in 3 of 4 jobs
repair polish
  takes 5 minutes
  cures bearing in 1 of 4 jobs
repair wash
  takes 5 minutes
)";

std::string card_with(const std::string& repairs) {
  return "complaint: { findings: [noise] }\nanswers: { noise: yes }\nrepairs: [" + repairs + "]\n";
}
const std::string renewed = "{ done: new_bearing, date: 2031-04-10, complaint: same }";

struct TriedBench {
  explicit TriedBench(const std::string& card)
      : job(two_rivals_and_repairs),
        facts(job.facts(card)),
        states(evaluation::evaluate(job.shared_rules(), facts)),
        network(model::build_network(job.shared_rules(), diagnostics)),
        model(network, states, std::size_t{1} << 26,
              advice::tried_in_vain(network, states, facts)) {}

  double chance(std::string_view cause) {
    const auto posterior = std::get<network::Posterior>(model.solve(model.evidence()));
    return model.chance(posterior, job.cause(cause)).value();
  }
  Reasons reasons(std::string_view cause) {
    evaluation::Evaluator evaluator(job.shared_rules());
    evaluator.evaluate(facts);
    return std::get<Reasons>(
        advice::explain_cause(model, evaluator, {}, cause, {}, 0, job.sources()));
  }
  Ranking ranking() {
    evaluation::Evaluator evaluator(job.shared_rules());
    evaluator.evaluate(facts);
    RankOptions options;
    options.draws = 20;
    return std::get<Ranking>(advice::rank_job(model, evaluator, {}, job.sources(), options));
  }

  JobBench job;
  evaluation::JobFacts facts;
  Diagnostics diagnostics;
  evaluation::Evaluation states;
  model::RuleNetwork network;
  advice::JobModel model;
};

/// A bearing that is bad stays so with the chance `bad`; the noise stayed.
struct ByHand {
  double bearing = 0;
  double pinion = 0;
};
ByHand by_hand(double bad) {
  const double fire = (0.4 - 0.001) / 0.999;
  double all = 0;
  ByHand result;
  for (const bool left : {false, true}) {
    for (const bool pinion : {false, true}) {
      const double silent = 0.999 * (left ? 1 - fire : 1) * (pinion ? 1 - fire : 1);
      const double weight =
          (left ? 0.2 * bad : 1 - 0.2 * bad) * (pinion ? 0.1 : 0.9) * (1 - silent);
      all += weight;
      if (left) result.bearing += weight;
      if (pinion) result.pinion += weight;
    }
  }
  return {result.bearing / all, result.pinion / all};
}

doctest::Approx near(double value) { return doctest::Approx(value).epsilon(1e-12); }

TEST_CASE("a repair that did not help lowers its cause and raises the others") {
  TriedBench nothing_done(card_with(""));
  CHECK(nothing_done.chance("bearing") == near(by_hand(1).bearing));
  TriedBench done(card_with(renewed));
  CHECK(done.chance("bearing") == near(by_hand(0.25).bearing));
  CHECK(done.chance("pinion") == near(by_hand(0.25).pinion));
}

TEST_CASE(
    "of two repairs the surer counts; a repair that helped, or that cures nothing, does not") {
  const std::string polished = "{ done: polish, date: 2031-04-09, complaint: same }";
  CHECK(TriedBench(card_with(polished + ", " + renewed)).chance("bearing") ==
        near(by_hand(0.25).bearing));
  CHECK(TriedBench(card_with(polished)).chance("bearing") == near(by_hand(0.75).bearing));
  CHECK(TriedBench(card_with("{ done: wash, date: 2031-04-09, complaint: same }"))
            .chance("bearing") == near(by_hand(1).bearing));
  CHECK(TriedBench(card_with("{ done: new_bearing, date: 2031-04-09 }")).chance("bearing") ==
        near(by_hand(1).bearing));
}

TEST_CASE("the chain of reasons holds that the complaint stayed, and adds up") {
  TriedBench bench(card_with(renewed));
  const Reasons why = bench.reasons("pinion");
  double log_odds = why.prior.log_odds();
  const ReasonStep* stayed = nullptr;
  for (const ReasonStep& step : why.chain) {
    log_odds += step.log_factor;
    if (step.finding == complaint_stayed) stayed = &step;
  }
  CHECK(log_odds == doctest::Approx(why.chance.log_odds()).epsilon(1e-12));
  REQUIRE(stayed != nullptr);
  CHECK(stayed->log_factor > 0);
  CHECK(stayed->said_at.find(":3:") != std::string::npos);
  CHECK(why.put_right_by.empty());
  CHECK_FALSE(bench.reasons("bearing").put_right_by.empty());
}

TEST_CASE("a ranking tells of it, and draws with it") {
  TriedBench bench(card_with(renewed));
  const Ranking ranking = bench.ranking();
  CHECK(ranking.learned_from_tried);
  REQUIRE(ranking.tried.size() == 1);
  CHECK(ranking.tried[0].id == "new_bearing");
  CHECK(ranking.first == "pinion");
  const auto& first = ranking.causes.front();
  CHECK(first.chance.value() == near(by_hand(0.25).pinion));
  CHECK(first.low < first.chance.value());
  CHECK(first.high > first.chance.value());
}

}  // namespace
}  // namespace slipcase::test
