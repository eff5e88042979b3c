// What became of readings after a clearing or a repair, each kind of change by itself. Rules and
// cards are invented; of the bench's unit a reading of fill pressure scatters by 20 mbar, so that
// two that differ by less than 2 sqrt(2) 20 = 56.6 mbar count as the same.
#include "advice/compare.h"

#include <string>

#include <doctest/doctest.h>
#include <fmt/core.h>

#include "support/job_bench.h"

namespace slipcase::test {
namespace {

constexpr std::string_view readings_rules = R"(reading fill_pressure of element : pressure
reading fill_time of element : time
event values_cleared
event software_updated
event drum_rebuilt of element
finding rough asks "Rough?" otherwise in 1 of 100 jobs
cause seal
  found in 1 of 10 jobs
  shows rough in 5 of 10 jobs
repair new_seal
  takes 30 minutes
  cures seal
distrust unlearned
  when happened wiped
  sets aside fill_pressure
  until new_seal
  because "nothing was learned since"
event wiped
)";

/// Two visits with `between` between them: per element K1 K2 K3 B1 B2.
std::string card(const std::string& between, const std::string& before, const std::string& after) {
  return "readings:\n  - { date: 2031-03-01, odometer: 100000 km, fill_pressure: " + before +
         " }\n  - { date: 2031-04-01, odometer: 101000 km, fill_pressure: " + after + " }\n" +
         between;
}
const std::string cleared = "events: [{ what: values_cleared, date: 2031-03-10 }]\n";
const std::string repaired = "repairs: [{ done: new_seal, date: 2031-03-10 }]\n";

std::vector<Comparison> compared(const std::string& text) {
  JobBench job(readings_rules);
  const evaluation::JobFacts facts = job.facts(text);
  return advice::comparisons(job.rules(), facts, evaluation::evaluate(job.shared_rules(), facts));
}

ReadingChange change(const std::string& between, int before, int after) {
  const auto value = [](int mbar) { return fmt::format("{{ K2: {} mbar }}", mbar); };
  const auto list = compared(card(between, value(before), value(after)));
  REQUIRE(list.size() == 1);
  REQUIRE(list[0].readings.size() == 1);
  CHECK(list[0].readings[0].id == "fill_pressure of K2");
  return list[0].readings[0].change;
}

TEST_CASE("after a clearing") {
  CHECK(change(cleared, 20, 40) == ReadingChange::small);
  CHECK(change(cleared, 20, 120) == ReadingChange::grown);
  CHECK(change(cleared, 200, 190) == ReadingChange::came_back);
  CHECK(change(cleared, 200, 144) == ReadingChange::came_back);
  CHECK(change(cleared, 200, 143) == ReadingChange::partly_back);
  CHECK(change(cleared, 200, 280) == ReadingChange::came_back);
  CHECK(change(cleared, 200, 56) == ReadingChange::stayed_away);
  CHECK(change(cleared, 200, 57) == ReadingChange::partly_back);
  CHECK(change(cleared, -200, -195) == ReadingChange::came_back);
  CHECK(change(cleared, -200, 100) == ReadingChange::grown);
}

TEST_CASE("after a repair, nothing cleared") {
  CHECK(change(repaired, 200, 150) == ReadingChange::same);
  CHECK(change(repaired, 200, 143) == ReadingChange::nearer);
  CHECK(change(repaired, 200, 260) == ReadingChange::further);
  CHECK(change(repaired, 90, -100) == ReadingChange::further);
}

TEST_CASE("after another part, or with another software, values begin anew") {
  const std::string rebuilt = "events: [{ what: drum_rebuilt of K2, date: 2031-03-10 }]\n";
  const auto list =
      compared(card(rebuilt, "{ K1: 100 mbar, K2: 200 mbar }", "{ K1: 100 mbar, K2: 190 mbar }"));
  REQUIRE(list.size() == 1);
  CHECK(list[0].readings.at(0).change == ReadingChange::same);
  CHECK(list[0].readings.at(1).change == ReadingChange::new_start);
}

TEST_CASE("what a distrust sets aside is not judged") {
  const auto list =
      compared(card("events:\n  - { what: values_cleared, date: 2031-03-10 }\n"
                    "  - { what: wiped, date: 2031-03-11 }\n",
                    "{ K2: 200 mbar }", "{ K2: 5 mbar }"));
  REQUIRE(list.size() == 1);
  CHECK(list[0].readings.at(0).change == ReadingChange::not_yet);
  CHECK(list[0].readings.at(0).because == "nothing was learned since");
}

TEST_CASE("one of several, or all, that came back") {
  const auto pattern = [](const std::string& before, const std::string& after) {
    return compared(card(cleared, before, after)).at(0).patterns.at(0);
  };
  const std::string high =
      "{ K1: 200 mbar, K2: 200 mbar, K3: 200 mbar, B1: 200 mbar, B2: 200 mbar }";
  const ReadingPattern one =
      pattern(high, "{ K1: 10 mbar, K2: 190 mbar, K3: 0 mbar, B1: 5 mbar, B2: 5 mbar }");
  CHECK(one.came_back == ChangePattern::one);
  CHECK(one.members == std::vector<std::string>{"K2"});
  CHECK(pattern(high, high).came_back == ChangePattern::all);
  const std::string few = "{ K1: 200 mbar, K2: 200 mbar }";
  CHECK(compared(card(cleared, few, few)).at(0).patterns.empty());
}

TEST_CASE("what was not there before did not come back") {
  const auto list = compared(card(cleared, "{ K1: 10 mbar, K2: 80 mbar, K3: 215 mbar, B1: 5 mbar }",
                                  "{ K1: 60 mbar, K2: 90 mbar, K3: 110 mbar, B1: 66 mbar }"));
  const ReadingPattern& pattern = list.at(0).patterns.at(0);
  CHECK(pattern.came_back == ChangePattern::several);
  CHECK(pattern.members == std::vector<std::string>{"K2", "K3"});
  CHECK(pattern.grown == ChangePattern::several);
  CHECK(pattern.grown_members == std::vector<std::string>{"K1", "B1"});
  CHECK(pattern.told == 4);
  CHECK(pattern.same_way);
  CHECK_FALSE(list.at(0).km_after);
}

TEST_CASE("all on both sides of zero, or moved both ways, did not go one way") {
  const auto same_way = [](const std::string& between, const std::string& before,
                           const std::string& after) {
    return compared(card(between, before, after)).at(0).patterns.at(0).same_way;
  };
  const std::string high = "{ K1: 200 mbar, K2: 200 mbar, K3: 200 mbar }";
  const std::string both = "{ K1: 200 mbar, K2: -200 mbar, K3: 200 mbar }";
  CHECK(same_way(cleared, high, high));
  CHECK_FALSE(same_way(cleared, both, both));
  CHECK(same_way(repaired, high, "{ K1: 100 mbar, K2: 90 mbar, K3: 110 mbar }"));
  CHECK_FALSE(same_way(repaired, high, "{ K1: 100 mbar, K2: 290 mbar, K3: 110 mbar }"));
}

TEST_CASE("values read a few km after the clearing may still move") {
  const auto list = compared(
      "readings:\n"
      "  - { date: 2031-03-01, odometer: 43496 miles, fill_pressure: { K2: 200 mbar } }\n"
      "  - { date: 2031-04-01, odometer: 70010.4 km, fill_pressure: { K2: 60 mbar } }\n"
      "events: [{ what: values_cleared, date: 2031-03-10, odometer: 70005.4 km }]\n");
  REQUIRE(list.size() == 1);
  REQUIRE(list[0].km_after);
  CHECK(*list[0].km_after == doctest::Approx(5.0));
  CHECK(list[0].before_at == "2031-03-01, 43496 miles");
  CHECK(list[0].after_at == "2031-04-01, 70010 km");
}

TEST_CASE("a later look takes the place of an earlier one; without a break nothing is compared") {
  const std::string text =
      "readings:\n"
      "  - { date: 2031-03-01, odometer: 100000 km, fill_pressure: { K2: 200 mbar } }\n"
      "  - { date: 2031-03-20, odometer: 100500 km, fill_pressure: { K2: 60 mbar } }\n"
      "  - { date: 2031-04-01, odometer: 101000 km, fill_pressure: { K2: 190 mbar } }\n";
  const auto list = compared(text + cleared);
  REQUIRE(list.size() == 1);
  CHECK(list[0].after_at == "2031-04-01, 101000 km");
  CHECK(list[0].readings.at(0).change == ReadingChange::came_back);
  CHECK(list[0].readings.at(0).range == ReadingRange::beyond_watch);
  CHECK(compared(text).empty());
}

}  // namespace
}  // namespace slipcase::test
