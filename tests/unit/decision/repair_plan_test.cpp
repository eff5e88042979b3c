#include "decision/repair_plan.h"

#include <cmath>
#include <fstream>
#include <numeric>

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include "support/decision_table.h"

namespace slipcase::decision {
namespace {

nlohmann::json reference() {
  std::ifstream file(SLIPCASE_TEST_DATA "/reference/decisions.json");
  return nlohmann::json::parse(file);
}

Problem plain_problem(const std::vector<double>& costs) {
  Problem problem;
  for (const double cost : costs) problem.repairs.push_back({cost});
  problem.unsolved = 1e9;
  return problem;
}

Prospect prospect_of(const std::vector<double>& chances) {
  const test::DecisionTable table = test::single_faults(chances);
  return test::TableOracle(table).now({});
}

// Expected cost under the ordering theorem's own assumptions, in which the last repair too is only
// begun when all before it failed.
TEST_CASE("single faults are repaired in the order of the published theorem, at its cost") {
  // Source: decisions.json, "repair_order": every order of each instance enumerated.
  const nlohmann::json all = reference();
  CHECK(all["repair_order"].size() == 20);
  for (const auto& instance : all["repair_order"]) {
    const std::vector<double> chances = instance["p"];
    REQUIRE(chances.size() <= most_repairs);
    const Problem problem = plain_problem(instance["cost"]);
    const Prospect prospect = prospect_of(chances);
    const RepairPlan plan = best_repairs(problem, prospect, 0);

    std::vector<RepairSet> published;
    for (const unsigned r : instance["an_optimal_order"]) published.push_back(RepairSet{1} << r);
    // The chances are rounded to four digits: what they miss of one stays unsolved.
    const double missing = prospect.chance - prospect.ended.back();
    const double expected = instance["optimal_ecr"];
    CHECK(cost_of_rounds(problem, prospect, 0, published) - problem.unsolved * missing ==
          doctest::Approx(expected).epsilon(1e-9));
    CHECK(plan.weighed_cost - problem.unsolved * missing ==
          doctest::Approx(expected).epsilon(1e-9));
  }
}

TEST_CASE("a repair that costs more than it can save is not planned") {
  Problem problem = plain_problem({80});
  problem.unsolved = 100;
  CHECK(best_repairs(problem, prospect_of({0.7, 0.3}), 0).rounds.empty() == true);
  problem.repairs[0].cost = 60;
  problem.repairs.push_back({500});
  const RepairPlan plan = best_repairs(problem, prospect_of({0.7, 0.3}), 0);
  CHECK(plan.rounds == std::vector<RepairSet>{1});
  CHECK(plan.weighed_cost == doctest::Approx(60 + 0.3 * 100));
}

TEST_CASE("what is paid once is paid once") {
  Problem problem = plain_problem({10, 10});
  problem.once = {100};
  problem.repairs[0].needs = 1;
  problem.repairs[1].needs = 1;
  const RepairPlan plan = best_repairs(problem, prospect_of({0.5, 0.5}), 0);
  CHECK(plan.weighed_cost == doctest::Approx(100 + 10 + 0.5 * 10));
  CHECK(best_repairs(problem, prospect_of({0.5, 0.5}), 1).weighed_cost ==
        doctest::Approx(10 + 0.5 * 10));
}

TEST_CASE("getting at a part is paid again in every round, for the car was driven between") {
  Problem problem = plain_problem({10, 10});
  problem.once = {100, 7};
  problem.lapses = 1;
  problem.repairs[0].needs = 3;
  problem.repairs[1].needs = 3;
  const Prospect prospect = prospect_of({0.9, 0.1});
  CHECK(cost_of_rounds(problem, prospect, 0, {1, 2}) ==
        doctest::Approx(100 + 7 + 10 + 0.1 * (100 + 10)));
  const RepairPlan plan = best_repairs(problem, prospect, 0);
  CHECK(plan.rounds == std::vector<RepairSet>{3});
  CHECK(plan.weighed_cost == doctest::Approx(100 + 7 + 20));
  // What a check opened is open for the first round only.
  CHECK(cost_of_rounds(problem, prospect, 3, {1, 2}) == doctest::Approx(10 + 0.1 * (100 + 10)));
}

TEST_CASE("dear comebacks make repairs go together") {
  Problem problem = plain_problem({10, 12});
  const Prospect prospect = prospect_of({0.5, 0.5});
  CHECK(best_repairs(problem, prospect, 0).rounds == std::vector<RepairSet>{1, 2});
  problem.comeback = 200;
  const RepairPlan plan = best_repairs(problem, prospect, 0);
  CHECK(plan.rounds == std::vector<RepairSet>{3});
  CHECK(plan.weighed_cost == doctest::Approx(22));
}

/// Every row of rounds, by trying them all.
double cheapest(const Problem& problem, const Prospect& prospect, std::vector<RepairSet>& rounds,
                RepairSet done) {
  double best = cost_of_rounds(problem, prospect, 0, rounds);
  const RepairSet all = (RepairSet{1} << problem.repairs.size()) - 1;
  for (RepairSet round = 1; round <= all; ++round) {
    if ((round & done) != 0) continue;
    rounds.push_back(round);
    best = std::min(best, cheapest(problem, prospect, rounds, done | round));
    rounds.pop_back();
  }
  return best;
}

TEST_CASE("the plan is the cheapest of all rows of rounds") {
  for (unsigned seed = 0; seed < 40; ++seed) {
    CAPTURE(seed);
    std::mt19937_64 random(seed);
    std::uniform_real_distribution<double> cost(1, 100);
    // Three repairs, so that "at most three together" leaves nothing out.
    const test::DecisionTable table = test::random_table(random, 4, 0);
    Prospect prospect = test::TableOracle(table).now({});
    prospect.ended.resize(8);  // the fourth fault has no repair
    Problem problem = plain_problem({cost(random), cost(random), cost(random)});
    problem.once = {cost(random), cost(random)};
    for (Work& work : problem.repairs) work.needs = random() % 4;
    problem.comeback = cost(random);
    problem.unsolved = 3 * cost(random);
    std::vector<RepairSet> rounds;
    const RepairPlan plan = best_repairs(problem, prospect, 0);
    CHECK(plan.weighed_cost == doctest::Approx(cheapest(problem, prospect, rounds, 0)));
    CHECK(plan.weighed_cost == doctest::Approx(cost_of_rounds(problem, prospect, 0, plan.rounds)));
    CHECK(plan.weighed_cost == cost_of_best_repairs(problem, prospect, 0));
  }
}

}  // namespace
}  // namespace slipcase::decision
