// What comes first in a plan, what was done already and what is paid anyway.
#include <algorithm>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "unit/advice/plan_shop.h"

using namespace slipcase;
using namespace slipcase::test::plan;

TEST_CASE("under a distrust the verdict is not yet, until what ends it is done") {
  Shop shop(rules);
  const std::string wiped = card + "events: [{ what: wiped, date: 2031-04-10 }]\n";
  const NextAdvice advice = shop.next(wiped);
  REQUIRE(advice.first.size() == 1);
  CHECK(advice.first[0].step.id == "drive_around");
  CHECK(advice.first[0].because == "the values were cleared");
  REQUIRE_FALSE(advice.plan.empty());
  CHECK(advice.plan[0].comes_first);
  CHECK(advice.plan[0].repairs.front().id == "drive_around");
  CHECK(advice.cost_of_first == near(30));
  const double after = Shop(rules).next(card).cost_of_repairs;
  CHECK(advice.cost_of_repairs == near(30 + comeback + after));
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

TEST_CASE(
    "what comes first can end the complaint, and the rest of the plan learns that it did not") {
  Shop shop(R"(
event wiped
finding slips asks "Slips?" otherwise in 1 of 1000 jobs
cause unlearned
    found in 1 of 5 jobs
    shows slips in 9 of 10 jobs
cause lining
    group hard_part
    found in 1 of 10 jobs
    shows slips in 9 of 10 jobs
repair drive_in
    takes 30 minutes
    cures unlearned
repair new_lining
    takes 160 minutes
    cures lining
distrust cleared
    when happened wiped
    not judged group hard_part
    until drive_in
    because "the values were cleared"
)");
  const NextAdvice advice = shop.next(card + "events: [{ what: wiped, date: 2031-04-10 }]\n");
  const double fires = adds(0.9, 0.001);
  const double no_leak = 1 - 0.001;
  const double quiet_lining = 1 - 0.1 * fires;
  const double quiet = (1 - 0.2 * fires) * quiet_lining;
  const double slips = 1 - no_leak * quiet;
  const double first = no_leak * quiet_lining * 0.2 * fires;  // only what was not learned fired it
  const double both = no_leak * (1 - quiet);
  REQUIRE(advice.plan.size() == 2);
  CHECK(advice.plan[0].comes_first);
  CHECK(advice.plan[0].ends == near(first / slips));
  CHECK(advice.first[0].ends == near(first / slips));
  CHECK(advice.plan[1].repairs.front().id == "new_lining");
  CHECK(advice.plan[1].ends == near(both / slips));
  const double failed = slips - first;
  const double cost =
      30 + (comeback * failed + 160 * failed + (comeback + unsolved) * (slips - both)) / slips;
  CHECK(advice.cost_of_repairs == near(cost));
}

TEST_CASE("what was read on this visit is not read again, and what is missing is named") {
  Shop shop(R"(
reading fill_pressure of element : pressure
reading converter_pressure : pressure
finding slips asks "Slips?" otherwise in 1 of 100 jobs
finding high of element
    when fill_pressure of element >= 100 mbar
    otherwise in 1 of 100 jobs
finding jumped of element
    when step of fill_pressure of element >= 80 mbar
    otherwise in 1 of 100 jobs
finding converter_high
    when converter_pressure >= 100 mbar
    otherwise in 1 of 100 jobs
cause worn of element
    found in 1 of 20 jobs
    shows slips in 8 of 10 jobs
    shows high of element in 1 of 10 jobs
    shows jumped of element in 9 of 10 jobs
cause converter
    found in 1 of 20 jobs
    shows slips in 8 of 10 jobs
    shows converter_high in 8 of 10 jobs
check read_values
    takes 5 minutes
    answers fill_pressure of each element, converter_pressure
repair renew of element
    takes 100 minutes
    cures worn of element
repair new_converter
    takes 100 minutes
    cures converter
)");
  const auto weighed = [&](const std::string& more) {
    std::vector<std::string> ids;
    const NextAdvice advice = shop.next(card + more);
    for (const CheckAdvice& check : advice.checks)
      for (const FindingReport& finding : check.findings) ids.push_back(finding.id);
    return ids;
  };
  const auto has_jump = [&](const std::string& more) {
    const auto ids = weighed(more);
    return std::ranges::any_of(ids, [](const auto& id) { return id.starts_with("jumped"); });
  };
  const auto values = [](const std::string& date, int odometer, bool converter) {
    return "  - { date: " + date + ", odometer: " + std::to_string(odometer) +
           " km, fill_pressure: { K1: 5 mbar, K2: 5 mbar, K3: 5 mbar, B1: 5 mbar, B2: 5 mbar }" +
           (converter ? ", converter_pressure: 5 mbar }\n" : " }\n");
  };
  CHECK_FALSE(weighed("").empty());
  CHECK_FALSE(has_jump(""));
  const std::string earlier =
      "readings:\n" + values("2029-04-17", 10000, true) + values("2030-04-17", 20000, true);
  CHECK(has_jump(earlier));
  const std::string today = values("2031-04-17", 30000, true);
  CHECK(weighed("readings:\n" + today).empty());
  CHECK(weighed("checks: [{ done: read_values, date: 2031-04-17 }]\n").empty());
  CHECK_FALSE(weighed("checks: [{ done: read_values, date: 2031-04-10 }]\n").empty());
  const NextAdvice partly = shop.next(card + "readings:\n" + values("2031-04-17", 30000, false));
  REQUIRE(partly.checks.size() == 1);
  CHECK(partly.checks[0].still_missing == std::vector<std::string>{"converter pressure"});
  REQUIRE(partly.checks[0].findings.size() == 1);
  CHECK(partly.checks[0].findings[0].id == "converter_high");
}

TEST_CASE("a check that a repair asks for anyway is paid once") {
  const auto rules_with = [](const std::string& only_after) {
    return R"(
finding slips asks "Slips?" otherwise in 1 of 100 jobs
finding low asks "Low?" otherwise in 1 of 10 jobs
cause lining
    found in 1 of 10 jobs
    shows slips in 9 of 10 jobs
cause too_little
    found in 1 of 10 jobs
    shows slips in 9 of 10 jobs
    shows low in 9 of 10 jobs
check level
    takes 20 minutes
    answers low
repair new_lining
    takes 100 minutes
    cures lining
)" + only_after +
           R"(
repair fill_up
    takes 40 minutes
    cures too_little
)" + only_after;
  };
  Shop plain(rules_with(""));
  Shop needed(rules_with("    only after level\n"));
  const NextAdvice without = plain.next(card);
  const NextAdvice with = needed.next(card);
  REQUIRE(without.checks.size() == 1);
  REQUIRE(with.checks.size() == 1);
  CHECK_FALSE(without.checks[0].needed_anyway);
  CHECK(with.checks[0].needed_anyway);
  CHECK(with.checks[0].cost == near(20));
  // Whatever its answer a repair follows, so nothing but the check itself is saved.
  CHECK(with.cost_with_check == near(without.cost_with_check));
  CHECK(with.checks[0].gain == near(without.checks[0].gain + 20));
}
