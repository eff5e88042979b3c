#include "advice/missing.h"

#include <doctest/doctest.h>

#include "advice/card_gaps.h"
#include "support/job_bench.h"

namespace slipcase::test {
namespace {

// Invented.
constexpr std::string_view rules = R"(finding noise
  asks "Is there a noise?"
  otherwise in 1 of 100 jobs
finding heat
  asks "Does it run hot?"
  otherwise in 10 of 100 jobs
finding smell
  asks "Does it smell?"
  otherwise in 10 of 100 jobs
finding flare of shift
  asks "Does it flare at {shift}?"
  otherwise in 10 of 100 jobs
detail old : yes or no asks "Is the car old?"
event cleared
  says "Values cleared"
cause bearing
  found in 20 of 100 jobs
  becomes 3 times as likely when old
  shows noise in 60 of 100 jobs
  shows heat in 80 of 100 jobs
  shows smell in 70 of 100 jobs
  shows flare of each shift in 40 of 100 jobs
  then causes pinion in 30 of 100 jobs
cause pinion
  found in 10 of 100 jobs
  becomes 4 times as likely when happened cleared and old
  shows noise in 60 of 100 jobs
access lift
  says "Car on the lift"
  takes 20 minutes
check feel_case
  says "Feel the case"
  takes 5 minutes
  needs lift
  answers heat, smell
)";

struct MissingBench {
  explicit MissingBench(std::string_view card)
      : job(rules),
        evaluator(job.shared_rules()),
        network(model::build_network(job.shared_rules(), diagnostics)),
        model(network, evaluator.evaluate(job.facts(card)), std::size_t{1} << 26),
        before(std::get<network::Posterior>(model.solve({}))),
        now(std::get<network::Posterior>(model.solve(model.evidence()))) {}

  std::vector<MissingFinding> missing() {
    const advice::Stories stories(model, before, now);
    const advice::Ways ways(job.rules(), &evaluator.facts());
    return advice::missing_findings(model, ways, stories, before, now, 5);
  }
  std::vector<CardGap> gaps() {
    const advice::Ways ways(job.rules(), &evaluator.facts());
    return advice::open_rules(model, evaluator, ways, now, job.sources()).gaps;
  }
  double chance(std::string_view cause) { return model.chance(now, job.cause(cause)).value(); }

  JobBench job;
  Diagnostics diagnostics;
  evaluation::Evaluator evaluator;
  model::RuleNetwork network;
  advice::JobModel model;
  network::Posterior before, now;
};

const CardGap* gap_for(const std::vector<CardGap>& gaps, std::string_view id) {
  for (const CardGap& gap : gaps)
    if (gap.ids.front() == id) return &gap;
  return nullptr;
}

double then_of(const CardGap& gap, std::string_view cause) {
  for (const auto& move : gap.moves)
    if (move.cause == cause) return move.then.value();
  return -1.0;
}

TEST_CASE("a check is named once, with its time on the way and what else it tells") {
  const auto missing = MissingBench("answers: {noise: yes}\n").missing();
  const auto checks = std::count_if(missing.begin(), missing.end(),
                                    [](const auto& m) { return m.check == "feel_case"; });
  REQUIRE(checks == 1);
  const auto check = std::find_if(missing.begin(), missing.end(),
                                  [](const auto& m) { return m.check == "feel_case"; });
  CHECK(check->id == "heat");
  CHECK(check->minutes == 25.0);
  REQUIRE(check->also.size() == 1);
  CHECK(check->also[0].id == "smell");
}

TEST_CASE("a question about every member is asked once, with the members that tell most") {
  const auto missing = MissingBench("answers: {noise: yes, flare: {1-2: no}}\n").missing();
  const auto flares = std::count_if(missing.begin(), missing.end(),
                                    [](const auto& m) { return m.id.rfind("flare of ", 0) == 0; });
  REQUIRE(flares == 1);
  const auto flare = std::find_if(missing.begin(), missing.end(),
                                  [](const auto& m) { return m.id.rfind("flare of ", 0) == 0; });
  CHECK(flare->check.empty());
  CHECK(flare->members.size() == 3);
  CHECK(std::find(flare->members.begin(), flare->members.end(), "1-2") == flare->members.end());
}

TEST_CASE("what tells most for its time comes first") {
  const auto missing = MissingBench("answers: {noise: yes}\n").missing();
  REQUIRE(missing.size() >= 2);
  // The question takes a minute, the check that tells more takes twenty-five.
  CHECK(missing[0].check.empty());
  CHECK(missing[1].information > missing[0].information);
}

TEST_CASE("what a fact could move is what the ranking says once the card gives it") {
  const auto gaps = MissingBench("answers: {noise: yes}\nevents: [{what: cleared}]\n").gaps();
  REQUIRE(gap_for(gaps, "old") != nullptr);
  CHECK(gap_for(gaps, "old")->asks == "Is the car old?");
  // For a cause that nothing makes the rule alone; "pinion" moves with its own rule only.
  MissingBench told("answers: {noise: yes}\ndetails: {old: yes}\nevents: [{what: cleared}]\n");
  MissingBench not_old("answers: {noise: yes}\ndetails: {old: no}\nevents: [{what: cleared}]\n");
  const double odds = not_old.chance("bearing") / (1 - not_old.chance("bearing"));
  CHECK(then_of(*gap_for(gaps, "old"), "bearing") == doctest::Approx(3 * odds / (1 + 3 * odds)));
  CHECK(then_of(*gap_for(gaps, "old"), "pinion") > not_old.chance("pinion"));
  CHECK(told.gaps().empty());
}

TEST_CASE("of a cause that another makes, a rule's move is worked out and not read off the odds") {
  const std::string_view old_car = "answers: {noise: yes}\ndetails: {old: yes}\n";
  const auto gaps = MissingBench(old_car).gaps();
  REQUIRE(gap_for(gaps, "cleared") != nullptr);
  CHECK(gap_for(gaps, "cleared")->asks == "Values cleared?");
  MissingBench told(std::string(old_car) + "events: [{what: cleared}]\n");
  CHECK(then_of(*gap_for(gaps, "cleared"), "pinion") == doctest::Approx(told.chance("pinion")));
}

}  // namespace
}  // namespace slipcase::test
