// Second opinions, on small invented rules, against full enumeration.
#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "unit/advice/plan_shop.h"

using namespace slipcase;
using namespace slipcase::test::plan;

TEST_CASE("the chance that a repair ends the complaint is that of full enumeration") {
  Shop shop(rules);
  CHECK(shop.review(card, {"new_lining"}).ends == near(ends({}, only_lining)));
  CHECK(shop.review(card, {"new_seal"}).ends == near(ends({}, only_seal)));
  CHECK(shop.review(card, {"new_lining", "new_seal"}).ends == near(ends({}, lining_and_seal)));
  const std::string smelt = card + "answers: { smell: yes }\n";
  CHECK(shop.review(smelt, {"new_lining"}).ends == near(ends(true, only_lining)));
  CHECK(shop.review(smelt, {"New seal"}).ends == near(ends(true, only_seal)));
}

TEST_CASE("a cause that is there but harmless does not spoil a repair's chance") {
  Shop shop(rules);
  const double without = shop.review(card, {"new_lining"}).ends;
  CHECK(shop.review(card + "answers: { noise: yes }\n", {"new_lining"}).ends == near(without));
}

TEST_CASE("an origin that is left uncured spoils a repair's chance") {
  Shop shop(R"(
finding slips asks "Slips?" otherwise in 1 of 1000 jobs
finding whine asks "Whine?" otherwise in 1 of 1000 jobs
cause pump
    found in 1 of 10 jobs
    shows whine in 9 of 10 jobs
    shows slips in 5 of 10 jobs
    then causes lining in 8 of 10 jobs
cause lining
    found in 1 of 10 jobs
    shows slips in 9 of 10 jobs
repair new_lining
    takes 60 minutes
    cures lining
repair new_pump
    takes 60 minutes
    cures pump
)");
  const double alone = shop.review(card + "answers: { whine: no }\n", {"new_lining"}).ends;
  const std::string whining = card + "answers: { whine: yes }\n";
  const double with_origin = shop.review(whining, {"new_lining"}).ends;
  CHECK(alone > 0.9);
  CHECK(with_origin < 0.6);
  CHECK(shop.review(whining, {"new_lining", "new_pump"}).ends > 0.95);
}

TEST_CASE("each verdict has its case") {
  Shop shop(rules);
  const std::string smelt = card + "answers: { smell: yes, noise: no }\n";
  CHECK(shop.review(smelt, {"new_lining"}).verdict == Verdict::go_ahead);
  CHECK(shop.review(smelt, {"new_bearing"}).verdict == Verdict::no_use);
  Shop dear(R"(
finding slips asks "Slips?" otherwise in 1 of 1000 jobs
finding smell asks "Smell?" otherwise in 1 of 100 jobs
cause lining
    found in 1 of 10 jobs
    shows slips in 9 of 10 jobs
    shows smell in 9 of 10 jobs
cause seal
    found in 1 of 10 jobs
    shows slips in 9 of 10 jobs
repair new_lining
    takes 200 minutes
    cures lining
repair new_seal
    takes 200 minutes
    cures seal
)");
  CHECK(dear.review(card, {"new_lining"}).verdict == Verdict::check_first);
  Shop unequal(R"(
finding slips asks "Slips?" otherwise in 1 of 1000 jobs
cause lining
    found in 1 of 10 jobs
    shows slips in 9 of 10 jobs
cause seal
    found in 1 of 10 jobs
    shows slips in 9 of 10 jobs
repair new_lining
    takes 60 minutes
    cures lining
repair new_seal
    takes 300 minutes
    cures seal
)");
  CHECK(unequal.review(card, {"new_seal"}).verdict == Verdict::other_repair);
}

TEST_CASE("a second opinion tells what would have to be true and what speaks for it") {
  const Review review = Shop(rules).review(card + "answers: { smell: yes }\n", {"new_lining"});
  REQUIRE(review.must_be_true.size() == 1);
  CHECK(review.must_be_true[0].id == "lining");
  REQUIRE(review.evidence.size() == 1);
  CHECK(review.evidence[0].finding == "smell");
  CHECK(review.evidence[0].ends_without == near(ends({}, only_lining)));
  CHECK(review.ends_by_complaint == near(ends({}, only_lining)));
  const auto log_odds = [](double p) { return std::log(p / (1 - p)); };
  CHECK(review.evidence[0].log_factor ==
        near(log_odds(ends(true, only_lining)) - log_odds(ends({}, only_lining))));
  CHECK(review.evidence[0].log_factor > 0);
  CHECK(review.cost_best <= review.cost_ahead);
}

TEST_CASE("of a complaint of several findings each tells how often it would remain") {
  const std::string two = "complaint: { findings: [slips, noise] }\n";
  const Review review = Shop(rules).review(two, {"new_lining"});
  REQUIRE(review.parts.size() == 2);
  CHECK(review.parts[0].finding == "noise");
  CHECK(review.parts[0].remains == near(1));
  CHECK(review.parts[0].ends_without == near(ends({}, only_lining)));
  CHECK(review.parts[1].remains == near(1 - ends({}, only_lining)));
  CHECK(Shop(rules).review(card, {"new_lining"}).parts.empty());
}

TEST_CASE("to be right: what the repair itself cures and without which it would not end it") {
  const Review review = Shop(rules + R"(
repair rebuild
    takes 60 minutes
    cures lining
    cures bearing
    follow with new_seal
)")
                            .review(card, {"rebuild"});
  REQUIRE(review.must_be_true.size() == 1);
  CHECK(review.must_be_true[0].id == "lining");
  CHECK(review.must_be_true[0].needed == near(ends({}, {1, 1, 0}) - ends({}, only_seal)));
}

TEST_CASE("while a check pays the verdict is not yet, however little it saves") {
  Shop shop(rules);
  const NextAdvice advice = shop.next(card);
  REQUIRE(advice.checks.front().net() > 0);
  CHECK(shop.review(card, {"new_lining"}).verdict == Verdict::check_first);
}

TEST_CASE("a repair that the rules do not know is answered with the nearest names") {
  const auto nearest = [](const std::string& name) {
    return std::get<UnknownRepair>(Shop(rules).review_result(card, {name})).nearest;
  };
  CHECK(nearest("new_linning") == std::vector<std::string>{"new_lining"});
  const std::vector<std::string> new_ones{"new_lining", "new_seal", "new_bearing"};
  CHECK(std::ranges::is_permutation(nearest("new"), new_ones));
  CHECK(nearest("repaint").empty());
}

TEST_CASE("costs in money count parts and the hourly rate") {
  ShopCosts costs = minutes();
  costs.labour_rate = 120;
  CHECK(costs.in_money());
  test::JobBench bench(rules +
                       "repair dear\n    takes 30 minutes\n    costs 250\n    cures seal\n");
  Diagnostics diagnostics;
  const auto network = model::build_network(bench.shared_rules(), diagnostics);
  const auto facts = bench.facts(card);
  const auto states = evaluation::evaluate(bench.shared_rules(), facts);
  advice::JobModel job(network, states, memory);
  const auto result = advice::review_repairs(job, facts, {}, costs, {"dear"}, {});
  CHECK(std::get<Review>(result).cost_of_round == near(250 + 0.5 * 120));
  CHECK(std::get<Review>(result).best.comeback == near(0.5 * 120));
}
