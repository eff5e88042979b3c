#include "advice/tipping.h"

#include <algorithm>
#include <cmath>
#include <string>

#include <doctest/doctest.h>
#include <fmt/core.h>

#include "support/job_bench.h"
#include "unit/advice/two_rivals.h"

namespace slipcase::test {
namespace {

using advice::JobModel;
using advice::TippingPoint;

struct TippingBench {
  explicit TippingBench(std::string_view rules, std::string_view card)
      : job(rules),
        states(job.evaluate(card)),
        network(model::build_network(job.shared_rules(), diagnostics)),
        model(network, states, std::size_t{1} << 26),
        before(std::get<network::Posterior>(model.solve({}))),
        now(std::get<network::Posterior>(model.solve(model.evidence()))),
        stories(model, before, now) {}

  JobBench job;
  Diagnostics diagnostics;
  evaluation::Evaluation states;
  model::RuleNetwork network;
  JobModel model;
  network::Posterior before, now;
  advice::Stories stories;
};

TEST_CASE("the smallest change of one count after which another cause comes first") {
  TippingBench bench(two_rivals, "answers: {noise: yes}\n");
  const std::vector<TippingPoint> points = advice::tipping_points(bench.model, bench.stories, 10);
  REQUIRE(points.size() >= 2);
  for (const TippingPoint& point : points)
    CHECK(bench.job.rules().name_of(point.then_first) == "pinion");
  // Equal shares: whichever is found more often is first. 20 and 10 of 100 meet in the middle at
  // equality, where the name decides and `bearing` stays.
  const auto rate_of_bearing = [](const TippingPoint& p) { return p.hits == 20.0; };
  const auto rate_of_pinion = [](const TippingPoint& p) { return p.hits == 10.0; };
  const auto down = std::ranges::find_if(points, rate_of_bearing);
  const auto up = std::ranges::find_if(points, rate_of_pinion);
  REQUIRE(down != points.end());
  REQUIRE(up != points.end());
  CHECK(down->needed == 9.0);
  CHECK(up->needed == 21.0);
}

TEST_CASE(
    "with the changed count in the rules another cause is first indeed, one less changes nothing") {
  TippingBench bench(two_rivals, "answers: {noise: yes}\n");
  for (const TippingPoint& point : advice::tipping_points(bench.model, bench.stories, 10)) {
    const auto leads_with = [&](double hits) {
      std::string text(two_rivals);
      const std::string before = fmt::format("{:g} of {:g} jobs", point.hits, point.total);
      const std::size_t at = text.find(before);
      text.replace(at, before.size(), fmt::format("{:g} of {:g} jobs", hits, point.total));
      TippingBench other(text, "answers: {noise: yes}\n");
      const auto posterior =
          std::get<network::Posterior>(other.model.solve(other.model.evidence()));
      const double bearing = other.model.chance(posterior, other.job.cause("bearing")).value();
      const double pinion = other.model.chance(posterior, other.job.cause("pinion")).value();
      return pinion > bearing;
    };
    // Only counts that stand once in the text can be found again this way.
    if (point.hits == 40.0) continue;
    CAPTURE(point.hits);
    CHECK(leads_with(point.needed));
    CHECK_FALSE(leads_with(point.needed + (point.needed < point.hits ? 1 : -1)));
  }
}

TEST_CASE("where no single count can change the first cause there is no tipping point") {
  TippingBench bench(R"(finding noise
  asks "Is there a noise?"
  otherwise in 1 of 1000 jobs
cause bearing
  found in 50 of 100 jobs
  shows noise in 90 of 100 jobs
)",
                     "answers: {noise: yes}\n");
  CHECK(advice::tipping_points(bench.model, bench.stories, 10).empty());
}

TEST_CASE("what the start of a story made is no rival of it") {
  // Invented. Values lost are likelier than the flat battery that mostly lost them.
  TippingBench bench(R"(finding near_zero
  asks "Do the values stand near zero?"
  otherwise in 1 of 1000 jobs
cause wiped
  found in 10 of 100 jobs
  shows near_zero in 90 of 100 jobs
cause battery
  found in 20 of 100 jobs
  then causes wiped in 80 of 100 jobs
)",
                     "answers: {near_zero: yes}\n");
  const auto battery = bench.job.cause("battery");
  REQUIRE(bench.stories.first() == battery);
  REQUIRE(bench.model.chance(bench.now, battery).value() <
          bench.model.chance(bench.now, bench.job.cause("wiped")).value());
  const std::vector<TippingPoint> points = advice::tipping_points(bench.model, bench.stories, 10);
  REQUIRE_FALSE(points.empty());
  for (const TippingPoint& point : points) CHECK(point.then_first != battery);
}

TEST_CASE("an answer that is told to change the first place does, any other does not") {
  // Invented.
  const std::string rules = std::string(two_rivals) + R"(  shows whine in 60 of 100 jobs
  shows rattle in 12 of 100 jobs
finding whine
  asks "Does it whine?"
  otherwise in 2 of 100 jobs
finding rattle
  asks "Does it rattle?"
  otherwise in 10 of 100 jobs
)";
  TippingBench bench(rules, "answers: {noise: yes}\n");
  const auto told = advice::tipping_answers(bench.model, bench.stories, bench.now);
  REQUIRE(told.size() == 1);
  CHECK(told[0].finding == "whine");
  CHECK(told[0].yes);
  CHECK(told[0].then_first == "pinion");
  for (const std::string finding : {"whine", "rattle"}) {
    for (const bool yes : {true, false}) {
      TippingBench then(rules, "answers: {noise: yes, " + finding + (yes ? ": yes}\n" : ": no}\n"));
      const bool changes = finding == told[0].finding && yes == told[0].yes;
      CHECK(then.stories.leader(then.model, then.now.hidden) ==
            then.job.cause(changes ? "pinion" : "bearing"));
      if (changes) {
        const double chance = std::exp(then.now.log_evidence - bench.now.log_evidence);
        CHECK(told[0].chance.value() == doctest::Approx(chance));
      }
    }
  }
}

}  // namespace
}  // namespace slipcase::test
