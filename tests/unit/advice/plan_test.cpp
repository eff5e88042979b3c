// What to do next, on small invented rules, against full enumeration.
#include <algorithm>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "unit/advice/plan_shop.h"

using namespace slipcase;
using namespace slipcase::test::plan;

TEST_CASE("the plan costs what the cheapest row of repairs costs") {
  Shop shop(rules);
  const NextAdvice advice = shop.next(card);
  CHECK(advice.cost_of_repairs == near(cheapest({}, {}) / weight({}, {}, std::nullopt)));
  const NextAdvice smelt = shop.next(card + "answers: { smell: no }\n");
  CHECK(smelt.cost_of_repairs == near(cheapest(false, {}) / weight(false, {}, std::nullopt)));
}

TEST_CASE("a check is worth what its answers save on average") {
  const double all = weight({}, {}, std::nullopt);
  const double saved = cheapest({}, {}) - cheapest(true, {}) - cheapest(false, {});
  const NextAdvice advice = Shop(rules).next(card);
  const CheckAdvice* sniff = find_check(advice, "sniff");
  REQUIRE(sniff != nullptr);
  CHECK(sniff->gain == near(saved / all));
  CHECK(sniff->gain > 0.1);
  CHECK(sniff->net() == near(saved / all - 2));
  CHECK(sniff->outcomes.size() == 2);
  for (const CheckOutcome& outcome : sniff->outcomes) {
    const bool yes = outcome.answers == std::vector<std::string>{"yes"};
    CHECK(outcome.chance == near(weight(yes, {}, std::nullopt) / all));
    CHECK(outcome.cost == near(cheapest(yes, {}) / weight(yes, {}, std::nullopt)));
  }
}

TEST_CASE("a check whose answers change no decision is worth nothing") {
  const CheckAdvice* listen = nullptr;
  const NextAdvice advice = Shop(rules).next(card);
  listen = find_check(advice, "listen");
  CHECK((listen == nullptr || listen->gain < 1e-9));
}

TEST_CASE("more information never raises the expected cost") {
  Shop shop(rules);
  for (const char* answers : {"{}", "{ smell: yes }", "{ smell: no }", "{ noise: yes }"}) {
    const NextAdvice advice = shop.next(card + "answers: " + answers + "\n");
    CHECK(advice.cost_with_check <= advice.cost_of_repairs * (1 + 1e-12));
    for (const CheckAdvice& check : advice.checks) {
      CHECK(check.gain >= 0.0);
      double then = 0;
      for (const CheckOutcome& outcome : check.outcomes) then += outcome.chance * outcome.cost;
      CHECK(then <= advice.cost_of_repairs * (1 + 1e-9));
    }
  }
}

TEST_CASE("getting there is paid in every round, what must come before once, and told") {
  std::string near_at_hand = rules;
  near_at_hand.replace(near_at_hand.find("takes 100 minutes"), 17, "takes 10 minutes");
  Shop shop(near_at_hand);
  const NextAdvice advice = shop.next(card);
  REQUIRE(advice.plan.size() == 2);
  CHECK(advice.plan[0].repairs.front().id == "new_lining");
  CHECK(advice.plan[0].cost == near(60 + 10 + 5));
  REQUIRE(advice.plan[0].before.size() == 1);
  CHECK(advice.plan[0].before[0].id == "save");
  CHECK(advice.plan[1].repairs.front().id == "new_seal");
  CHECK(advice.plan[1].cost == near(40 + 10));
  const NextAdvice saved = shop.next(card + "checks: [{ done: save, date: 2031-04-16 }]\n");
  CHECK(saved.plan[0].cost == near(60 + 10));
  CHECK(saved.plan[0].before.empty());
}

TEST_CASE("a repair that did not help shifts the plan") {
  Shop shop(rules);
  const NextAdvice advice =
      shop.next(card + "repairs: [{ done: new_lining, date: 2031-04-10, complaint: same }]\n");
  REQUIRE(advice.tried.size() == 1);
  CHECK(advice.tried[0].id == "new_lining");
  REQUIRE_FALSE(advice.plan.empty());
  CHECK(advice.plan[0].repairs.front().id == "new_seal");
  const double gone = weight({}, {}, only_lining);
  const double expected =
      (weight({}, {}, lining_and_seal) - gone) / (weight({}, {}, std::nullopt) - gone);
  CHECK(advice.plan[0].ends == near(expected));
}

// Only two repairs together end a complaint of two parts, and one dear one. Many others end half of
// it, because the cooler is flushed behind each of them.
TEST_CASE("repairs that end the complaint only together are found among many that seem as good") {
  std::string many = R"(
finding hot asks "Too hot?" otherwise in 1 of 1000 jobs
finding shudder asks "Shudder?" otherwise in 1 of 1000 jobs
cause cooler_blocked found in 1 of 20 jobs shows hot in 9 of 10 jobs
cause clutch_worn found in 1 of 20 jobs shows shudder in 9 of 10 jobs
repair flush takes 30 minutes cures cooler_blocked
repair converter takes 120 minutes cures clutch_worn
repair exchange takes 600 minutes cures cooler_blocked, clutch_worn
)";
  for (int i = 0; i < 9; ++i) {
    const std::string n = std::to_string(i);
    many += "cause worn_" + n + " found in 1 of 30 jobs shows hot in 1 of 20 jobs\n" +
            "repair pack_" + n + " takes 60 minutes cures worn_" + n + " follow with flush\n";
  }
  const std::string both = "complaint: { findings: [hot, shudder] }\n";
  Shop shop(many);
  const NextAdvice advice = shop.next(both);
  REQUIRE_FALSE(advice.plan.empty());
  std::vector<std::string> first;
  for (const StepReport& repair : advice.plan[0].repairs) first.push_back(repair.id);
  std::ranges::sort(first);
  CHECK(first == std::vector<std::string>{"converter", "flush"});
  CHECK(advice.cost_of_repairs ==
        near(shop.review(both, {"flush", "converter"}).best.cost_of_repairs));
}

TEST_CASE("a complaint that is gone needs no plan, only what must follow the repair") {
  Shop shop(rules + "repair flush\n    takes 30 minutes\n    cures seal\n    follow with listen\n");
  const std::string gone = "{ done: flush, date: 2031-04-12, complaint: gone }";
  const std::string same = "{ done: new_lining, date: 2031-04-10, complaint: same }";
  const auto result = shop.next_result(card + "repairs:\n  - " + same + "\n  - " + gone + "\n");
  const auto* end = std::get_if<ComplaintGone>(&result);
  REQUIRE(end != nullptr);
  CHECK(end->by.id == "flush");
  REQUIRE(end->handover.size() == 1);
  CHECK(end->handover[0].id == "listen");
  const auto again = shop.next_result(card + "repairs:\n  - " + gone + "\n  - " + same + "\n");
  CHECK(std::holds_alternative<NextAdvice>(again));
}

TEST_CASE("without a named complaint everything seen is taken for it, and nothing seen is none") {
  Shop shop(rules);
  const NextAdvice advice = shop.next("answers: { slips: yes, noise: yes, smell: no }\n");
  CHECK(advice.complaint_assumed);
  CHECK(advice.complaint.size() == 2);
  CHECK_FALSE(shop.next(card).complaint_assumed);
  CHECK(std::holds_alternative<NoComplaint>(shop.next_result("answers: { slips: no }\n")));
  CHECK(std::holds_alternative<NoComplaint>(
      shop.review_result("answers: { slips: no }\n", {"new_seal"})));
}
