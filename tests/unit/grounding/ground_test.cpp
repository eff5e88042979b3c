// Rules for any member as rules for each member, on the invented six-speed of ground_bench.
#include "grounding/ground.h"

#include <algorithm>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "support/ground_bench.h"

using namespace slipcase;
using test::GroundBench;
using Names = std::vector<std::string>;

namespace {

constexpr const char* rules = R"(
detail use : one of town, towing asks "Used how?"
reading fill_pressure of element : pressure
event values_cleared
event battery_flat counts as values_cleared
event drum_rebuilt of element
event unit_rebuilt counts as drum_rebuilt
finding flare of shift asks "Flare at {shift}?" otherwise in 1 of 100 jobs
finding slip of gear asks "Slip?" otherwise in 1 of 100 jobs
finding up of element when fill_pressure of element > 100 mbar otherwise in 1 of 100 jobs
finding very_up of element when fill_pressure of element > 200 mbar otherwise in 1 of 100 jobs
finding odd of element asks "Odd?" otherwise in 1 of 100 jobs
at most one per element of up, odd
inside slips of element
    says "{element} slips"
    otherwise in 1 of 100 jobs
    shows flare of each shift applying element in 8 of 10 jobs
    shows slip of each gear without element in 2 of 10 jobs
cause worn of element
    says "Worn lining in {element}"
    group hard_part
    found in 1 of 50 jobs
    becomes 3 times as likely when use is towing
    shows slips of element in 9 of 10 jobs
cause regulator
    group control
    found in 1 of 25 jobs
    shows slips of each element that is rotating in 5 of 10 jobs
    then causes worn of each element in 1 of 10 jobs
cause loose found in 1 of 50 jobs shows odd of K1 in 5 of 10 jobs
check air_check of element takes 30 minutes
    flags worn of element in 14 of 20 bad, in 2 of 20 good
distrust cleared
    when happened values_cleared
    sets aside fill_pressure, odd of K1
    except fill_pressure of B2
    not judged group hard_part
    until air_check
    because "invented"
)";

Names links_of(const grounding::GroundRules& ground, const std::string& from) {
  Names names;
  for (const auto& link : ground.shows) {
    const auto* inside = std::get_if<grounding::GroundInside>(&link.from);
    if (inside == nullptr || ground.name_of(*inside) != from) continue;
    names.push_back(ground.name_of(std::get<grounding::GroundFinding>(link.to)));
  }
  return names;
}

}  // namespace

TEST_SUITE("ground rules") {
  TEST_CASE("every member of every declaration has a number and a name") {
    const GroundBench bench(rules);
    const auto& ground = *bench.ground;
    CHECK(ground.causes.size() == 5 + 1 + 1);
    CHECK(ground.insides.size() == 5);
    CHECK(ground.name_of(grounding::GroundCause{2}) == "worn of K3");
    CHECK(ground.says(grounding::GroundCause{2}) == "Worn lining in K3");
    CHECK(ground.asks(*ground.find_finding("flare of 2-3")) == "Flare at 2-3?");
    CHECK(ground.find_cause("worn of K3") == grounding::GroundCause{2});
    CHECK(ground.find_cause("regulator") == grounding::GroundCause{5});
    CHECK_FALSE(ground.find_cause("worn"));
    CHECK_FALSE(ground.find_cause("worn of K9"));
    CHECK_FALSE(ground.find_cause("regulator of K1"));
  }
  TEST_CASE("a link follows the relations of the unit") {
    const GroundBench bench(rules);
    CHECK(links_of(*bench.ground, "slips of K3") ==
          Names{"flare of 3-4", "slip of R", "slip of 1", "slip of 2", "slip of 3"});
  }
  TEST_CASE("a link to each marked member leaves the others alone") {
    const GroundBench bench(rules);
    const auto& ground = *bench.ground;
    const auto regulator = *ground.find_cause("regulator");
    const auto shown = std::ranges::count_if(ground.shows, [&](const auto& link) {
      const auto* cause = std::get_if<grounding::GroundCause>(&link.from);
      return cause != nullptr && *cause == regulator;
    });
    CHECK(shown == 3);
    CHECK(ground.then_causes.size() == 5);
  }
  TEST_CASE("a check that flags shows its own finding") {
    const GroundBench bench(rules);
    const auto& ground = *bench.ground;
    REQUIRE(ground.flags.size() == 5);
    CHECK(ground.name_of(ground.flags[1].from) == "worn of K2");
    CHECK(ground.name_of(ground.flags[1].to) == "air_check of K2");
  }
  TEST_CASE("what a distrust sets aside and judges is counted member by member") {
    const GroundBench bench(rules);
    const auto& ground = *bench.ground;
    REQUIRE(ground.distrusts.size() == 1);
    const auto& distrust = ground.distrusts[0];
    CHECK(distrust.readings.size() == 4);
    REQUIRE(distrust.findings.size() == 1);
    CHECK(ground.name_of(distrust.findings[0]) == "odd of K1");
    CHECK(std::ranges::count(distrust.not_judged, true) == 5);
  }
  TEST_CASE("an event without members counts as each member of the other") {
    const GroundBench bench(rules);
    const auto& ground = *bench.ground;
    std::size_t at = 0;
    while (ground.name_of(grounding::GroundEvent{static_cast<std::uint32_t>(at)}) !=
           "unit_rebuilt") {
      ++at;
    }
    CHECK(ground.counts_as[at].size() == 1 + 5);
  }
  TEST_CASE("values that several conditions ask for are there once") {
    const GroundBench bench(rules);
    const auto& values = bench.ground->programs.values;
    const auto readings = std::ranges::count_if(
        values, [](const auto& node) { return node.kind == grounding::ValueNode::Kind::reading; });
    // `up` and `very_up` ask for the same reading of five elements.
    CHECK(readings == 5);
  }
  TEST_CASE("a step comes after everything it asks") {
    const GroundBench bench(std::string(rules) +
                            "finding leading when any element ( very_up of element ) "
                            "otherwise in 1 of 100 jobs\n");
    const auto& ground = *bench.ground;
    const auto& step_of = ground.dependents.step_of_finding;
    const auto up = ground.find_finding("very_up of B2");
    CHECK(step_of[up->at()] < step_of[ground.find_finding("leading")->at()]);
    CHECK(ground.dependents.step_of_distrust[0] < step_of[up->at() - 4]);
  }
  TEST_CASE("findings that hang on themselves are refused with their path") {
    const GroundBench bench(R"(
reading fill_pressure of element : pressure
finding up of element when fill_pressure of element > 100 mbar otherwise in 1 of 100 jobs
finding odd of element when low_enough of element otherwise in 1 of 100 jobs
finding flat of element when fill_pressure of element < 10 mbar otherwise in 1 of 100 jobs
finding low_enough of element when beside of element otherwise in 1 of 100 jobs
finding beside of element when not third of element otherwise in 1 of 100 jobs
finding third of element when flat of element otherwise in 1 of 100 jobs
finding fourth of element when up of element otherwise in 1 of 100 jobs
at most one per element of up, odd
at most one per element of flat, fourth
)");
    // Each list waits for the other: `third` for `fourth`, `fourth` for `odd`, `odd` for `third`.
    CHECK(bench.messages() == Names{"asks-itself"});
    CHECK_FALSE(bench.ground);
    CHECK(bench.diagnostics.list()[0].notes.size() >= 3);
  }
  TEST_CASE("a reading that rules and unit describe differently is refused") {
    CHECK(GroundBench("reading fill_pressure : pressure\n").messages() == Names{"reading-differs"});
    CHECK(GroundBench("reading fill_pressure of element : voltage\n").messages() ==
          Names{"reading-differs"});
    CHECK(GroundBench("reading oil_level : distance\n").messages().empty());
  }
  TEST_CASE("a reset that is no event is refused, one nobody declares is no matter") {
    CHECK(GroundBench("finding values_cleared asks \"Cleared?\" otherwise in 1 of 100 jobs\n")
              .messages() == Names{"reset-differs"});
    CHECK(GroundBench("event values_cleared\n").messages().empty());
  }
}
