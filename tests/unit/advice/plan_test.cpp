// What to do next and second opinions, on small invented rules, against full enumeration.
#include <algorithm>
#include <array>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "advice/next_steps.h"
#include "advice/review_repairs.h"
#include "support/job_bench.h"

using namespace slipcase;

namespace {

constexpr std::size_t memory = std::size_t{1} << 26;
constexpr double comeback = 30;
constexpr double unsolved = 900;

/// Minutes, so that parts do not count.
ShopCosts minutes() {
  ShopCosts costs;
  costs.comeback_minutes = comeback;
  costs.unsolved_minutes = unsolved;
  return costs;
}

class Shop {
 private:
  template <class Ask>
  auto with_model(const std::string& card, Ask&& ask) {
    const evaluation::JobFacts facts = bench_.facts(card);
    const evaluation::Evaluation states = evaluation::evaluate(bench_.shared_rules(), facts);
    advice::JobModel job(network_, states, memory);
    return ask(job, facts);
  }

 public:
  explicit Shop(const std::string& rules)
      : bench_(rules), network_(model::build_network(bench_.shared_rules(), diagnostics_)) {}

  NextAdvice next(const std::string& card) { return std::get<NextAdvice>(next_result(card)); }
  NextResult next_result(const std::string& card) {
    return with_model(card, [&](advice::JobModel& job, const evaluation::JobFacts& facts) {
      return advice::next_steps(job, facts, {}, minutes(), {});
    });
  }
  Review review(const std::string& card, const std::vector<std::string>& repairs) {
    return std::get<Review>(review_result(card, repairs));
  }
  ReviewResult review_result(const std::string& card, const std::vector<std::string>& repairs) {
    return with_model(card, [&](advice::JobModel& job, const evaluation::JobFacts& facts) {
      return advice::review_repairs(job, facts, {}, minutes(), repairs, {});
    });
  }

 private:
  test::JobBench bench_;
  Diagnostics diagnostics_;
  model::RuleNetwork network_;
};

// The counts of the rules below once more, for the enumeration.
struct Row {
  double found, slips, smell, noise;
};
constexpr std::array<Row, 3> rows{{{0.1, 0.8, 0.7, 0.0},    // lining
                                   {0.05, 0.6, 0.0, 0.0},   // seal
                                   {0.2, 0.0, 0.0, 0.9}}};  // bearing: nothing to do with slips
constexpr Row leaks{0.0, 0.02, 0.05, 0.1};

const std::string rules = R"(
finding slips asks "Slips?" otherwise in 2 of 100 jobs
finding smell asks "Burnt smell?" otherwise in 5 of 100 jobs
finding noise asks "Noise?" otherwise in 1 of 10 jobs
cause lining
    group hard_part
    found in 1 of 10 jobs
    shows slips in 8 of 10 jobs
    shows smell in 7 of 10 jobs
cause seal
    group hard_part
    found in 1 of 20 jobs
    shows slips in 6 of 10 jobs
cause bearing
    found in 1 of 5 jobs
    shows noise in 9 of 10 jobs
access unit_out
    says "Unit out"
    takes 100 minutes
detail oil : yes or no asks "Which oil?"
check save
    takes 5 minutes
    answers oil
check sniff
    takes 2 minutes
    answers smell
check listen
    takes 2 minutes
    answers noise
repair new_lining
    says "New lining"
    takes 60 minutes
    needs unit_out
    cures lining in 9 of 10 jobs
    only after save
repair new_seal
    says "New seal"
    takes 40 minutes
    needs unit_out
    cures seal
repair new_bearing
    takes 30 minutes
    cures bearing
repair drive_around
    takes 30 minutes
distrust cleared
    when happened wiped
    not judged group hard_part
    until drive_around
    because "the values were cleared"
event wiped
)";

const std::string card = "complaint: { findings: [slips] }\n";

using Known = std::optional<bool>;

/// What the cause itself adds to a count that says how many jobs show it, whatever the reason.
double adds(double count, double leak) { return std::max(0.0, (count - leak) / (1 - leak)); }

double seen(Known known, double clear) { return !known ? 1.0 : *known ? 1.0 - clear : clear; }

/// Chance of the answers and of slips; with `cured` (how often each cause is ended) the chance of
/// that and that nothing left behind was among what made it slip.
double weight(Known smell, Known noise, const std::optional<std::array<double, 3>>& cured) {
  double sum = 0;
  for (int state = 0; state < 27; ++state) {
    double chance = 1;
    double no_smell = 1 - leaks.smell;
    double no_noise = 1 - leaks.noise;
    double left_quiet = 1 - leaks.slips;
    double cured_quiet = 1;
    for (std::size_t i = 0, rest = static_cast<std::size_t>(state); i < 3; ++i, rest /= 3) {
      const Row& row = rows[i];
      const double ended = cured ? (*cured)[i] : 0.0;
      const std::size_t part = rest % 3;  // absent, left behind, ended
      chance *= part == 0 ? 1 - row.found : row.found * (part == 1 ? 1 - ended : ended);
      if (part == 0) continue;
      no_smell *= 1 - adds(row.smell, leaks.smell);
      no_noise *= 1 - adds(row.noise, leaks.noise);
      (part == 1 ? left_quiet : cured_quiet) *= 1 - adds(row.slips, leaks.slips);
    }
    const double slips = cured ? left_quiet * (1 - cured_quiet) : 1 - left_quiet;
    sum += chance * seen(smell, no_smell) * seen(noise, no_noise) * slips;
  }
  return sum;
}

constexpr std::array<double, 3> only_lining{0.9, 0, 0};
constexpr std::array<double, 3> only_seal{0, 1, 0};
constexpr std::array<double, 3> lining_and_seal{0.9, 1, 0};

/// The cheapest way through the two repairs that touch the complaint, every row tried; weighed.
double cheapest(Known smell, Known noise) {
  const double all = weight(smell, noise, std::nullopt);
  const double lining = weight(smell, noise, only_lining);
  const double seal = weight(smell, noise, only_seal);
  const double both = weight(smell, noise, lining_and_seal);
  const double lining_work = 60 + 100 + 5;  // with the unit out and the values saved
  const double seal_work = 40 + 100;
  const auto stop_after = [&](double ended) { return (comeback + unsolved) * (all - ended); };
  return std::min({unsolved * all,                               //
                   lining_work * all + stop_after(lining),       //
                   seal_work * all + stop_after(seal),           //
                   (lining_work + 40) * all + stop_after(both),  //
                   lining_work * all + (comeback + 40) * (all - lining) + stop_after(both),
                   seal_work * all + (comeback + 60 + 5) * (all - seal) + stop_after(both)});
}

double ends(Known smell, const std::array<double, 3>& cured) {
  return weight(smell, {}, cured) / weight(smell, {}, std::nullopt);
}

const CheckAdvice* find_check(const NextAdvice& advice, const std::string& id) {
  const auto at =
      std::ranges::find_if(advice.checks, [&](const auto& c) { return c.step.id == id; });
  return at != advice.checks.end() ? &*at : nullptr;
}

doctest::Approx near(double value) { return doctest::Approx(value).epsilon(1e-9); }

}  // namespace

TEST_CASE("the chance that a repair ends the complaint is that of full enumeration") {
  Shop shop(rules);
  CHECK(shop.review(card, {"new_lining"}).ends == near(ends({}, only_lining)));
  CHECK(shop.review(card, {"new_seal"}).ends == near(ends({}, only_seal)));
  CHECK(shop.review(card, {"new_lining", "new_seal"}).ends == near(ends({}, lining_and_seal)));
  const std::string smelt = card + "answers: { smell: yes }\n";
  CHECK(shop.review(smelt, {"new_lining"}).ends == near(ends(true, only_lining)));
  CHECK(shop.review(smelt, {"New seal"}).ends == near(ends(true, only_seal)));
}

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

TEST_CASE("getting there is paid once, and what must come before is paid and told") {
  const NextAdvice advice = Shop(rules).next(card);
  REQUIRE(advice.plan.size() == 2);
  CHECK(advice.plan[0].repairs.front().id == "new_lining");
  CHECK(advice.plan[0].cost == near(60 + 100 + 5));
  REQUIRE(advice.plan[0].before.size() == 1);
  CHECK(advice.plan[0].before[0].id == "save");
  CHECK(advice.plan[1].repairs.front().id == "new_seal");
  CHECK(advice.plan[1].cost == near(40));
  const NextAdvice saved = Shop(rules).next(card + "checks: [{ done: save, date: 2031-04-16 }]\n");
  CHECK(saved.plan[0].cost == near(60 + 100));
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

TEST_CASE("under a distrust the verdict is not yet, until what ends it is done") {
  Shop shop(rules);
  const std::string wiped = card + "events: [{ what: wiped, date: 2031-04-10 }]\n";
  const NextAdvice advice = shop.next(wiped);
  REQUIRE(advice.first.size() == 1);
  CHECK(advice.first[0].step.id == "drive_around");
  CHECK(advice.first[0].because == "the values were cleared");
  CHECK(advice.plan.empty());
  CHECK(shop.review(wiped, {"new_lining"}).verdict == Verdict::not_yet);
  CHECK(shop.review(wiped, {"drive_around"}).verdict == Verdict::go_ahead);
  CHECK(shop.review(card, {"new_lining"}).verdict != Verdict::not_yet);
}

TEST_CASE("what must be read again before a repair does not make the repair the first thing") {
  Shop shop(rules + R"(
distrust read_cold
    when happened read_it_cold
    sets aside smell
    until save
    because "it was read cold"
event read_it_cold
)");
  const std::string cold = card + "events: [{ what: read_it_cold, date: 2031-04-10 }]\n";
  REQUIRE(shop.next(cold).first.size() == 1);
  // `new_lining` comes only after `save`, which ends the distrust.
  CHECK(shop.review(cold, {"new_lining"}).verdict == Verdict::not_yet);
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
  CHECK(review.cost_best <= review.cost_ahead);
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

TEST_CASE("a repair that the rules do not know is answered with the nearest names") {
  const auto nearest = [](const std::string& name) {
    return std::get<UnknownRepair>(Shop(rules).review_result(card, {name})).nearest;
  };
  CHECK(nearest("new_linning") == std::vector<std::string>{"new_lining"});
  CHECK(nearest("new") == std::vector<std::string>{"new_lining", "new_seal", "new_bearing"});
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
