#include <doctest/doctest.h>

#include "language/parse.h"
#include "language/print.h"
#include "rulebase/canonical.h"
#include "support/rules_text.h"

using slipcase::test::resolve_text;

namespace {

// Every kind of declaration and most clauses, with invented numbers.
constexpr const char* everything = R"(
detail odometer : distance
detail use : one of private, towing, taxi
    asks "What is it used for?"
reading fill_pressure of element : pressure
reading fill_time of element : time

cause lining_worn of element
    says  "Worn friction lining in {element}"
    group hard_part
    found in 1 of 50 jobs, except K3 in 1 of 20 jobs
    becomes 3 times as likely when odometer > 200000 km
    never when distance since drum_rebuilt of element < 5000 km
    shows slips of element in 9 of 10 jobs
    shows both_up of element raised or more in 7, high in 5 of 10 jobs
        because "the controller adds pressure and time to carry the same torque on less lining"
    source "common practice"

cause line_regulator_worn
    says  "Main pressure regulator valve or bore worn"
    group hydraulic_control
    found in 1 of 25 jobs
    shows line_low in 8 of 10 jobs
    then causes lining_worn of each element in 1 of 10 jobs

cause seal_leak of element
    found in 1 of 40 jobs
    shows pressure_only of element in 6 of 10 jobs
cause learning_missing
    found in 1 of 30 jobs
    shows level_high in 1 of 10 jobs
cause level_wrong
    found in 1 of 30 jobs
    shows level_low in 1 of 2 jobs

inside slips of element
    says      "{element} slips"
    otherwise in 1 of 100 jobs
    shows     flare of each shift applying element in 8 of 10 jobs
    shows     slip of each gear straining element in 6 of 10 jobs
    shows     ratio_code of each gear using element in 3 of 10 jobs

inside line_low
    otherwise in 1 of 100 jobs
    shows level_low in 1 of 50 jobs

finding flare of shift
    says    "Engine speed flares during the {shift} shift"
    asks    "Do the revs jump up for a moment when it shifts {shift}?"
    grade   sometimes
    grade   always
    overall sometimes or more in 4, always in 2 of 100 jobs

finding slip of gear
    when ratio_error of gear > 50 rpm
    otherwise in 1 of 100 jobs
finding ratio_code of gear
    when stored ratio_code of gear
    otherwise in 1 of 100 jobs
finding level_low asks "Low?" otherwise in 1 of 20 jobs
finding level_high asks "High?" otherwise in 1 of 20 jobs
finding all_near_zero
    when every element ( as_read of fill_pressure of element within 15 mbar of zero )
finding time_only of element
    when limit_share of fill_time of element >= 40 %

finding both_up of element
    says   "{element} is filled with more pressure and for longer than when new"
    grade  raised when limit_share of fill_pressure of element >= 40 % and limit_share of fill_time of element >= 40 %
    grade  high   when limit_share of fill_pressure of element >= 70 % and limit_share of fill_time of element >= 70 %
    otherwise raised or more in 4, high in 1 of 100 jobs

finding pressure_only of element
    says   "{element} is filled with more pressure, not for longer"
    when   limit_share of fill_pressure of element >= 40 % and fill_time of element within 15 ms of zero
    otherwise in 3 of 100 jobs

at most one per element of both_up, pressure_only, time_only

event values_cleared
    says "Learned values cleared"
    asks "Were the learned values cleared, here or elsewhere?"
event battery_flat
    asks "Was the battery flat or disconnected?"
    counts as values_cleared
event drum_rebuilt of element
event values_saved

distrust values_unlearned
    when happened values_cleared and not on card learning_drive since values_cleared
    sets aside fill_pressure, fill_time
    except all_near_zero
    judge only learning_missing, level_wrong
    until learning_drive
    because "values were cleared and no learning drive is recorded"

check level_at_temperature
    says    "Check the fluid level inside its temperature window"
    takes   20 minutes
    answers level_low, level_high
    caution hot_fluid

check air_check of element
    says    "Air-check the circuit of {element}"
    takes   30 minutes   needs control_unit_out
    flags   seal_leak of element in 14 of 20 bad, in 2 of 20 good

access control_unit_out
    says "Control unit out and in"   takes 3 h
access unit_out
    says "Unit out and in"   takes 8 h

repair overhaul
    says  "Overhaul"   takes 9 h   costs 1800   needs unit_out
    cures lining_worn of each element, seal_leak of each element
    only after values_saved
    follow with level_at_temperature, learning_drive
repair learning_drive
    takes 1 h
    cures learning_missing

caution hot_fluid
    says "Fluid and pan are hot enough to scald: gloves, eye protection, vehicle level and secured."

trial "seal renewed, values cleared, no learning drive"
    opened 2031-04-15
    with values_cleared on 2031-03-02
    with flare of 2-3 sometimes, no flare of 3-4, use is towing
    expect learning_missing first
    expect lining_worn of K3 not judged
)";

}  // namespace

TEST_CASE("a file with every kind of declaration resolves") {
  const auto resolved = resolve_text(everything);
  CHECK(resolved.text() == "");
  REQUIRE(resolved.rules.has_value());
  const auto& rules = *resolved.rules;
  CHECK(rules.causes.size() == 5);
  CHECK(rules.insides.size() == 2);
  // The declared ones and the check that flags.
  CHECK(rules.findings.size() == 10);
  // The declared ones, two checks and two repairs.
  CHECK(rules.events.size() == 8);
  CHECK(rules.groups.size() == 2);
  CHECK(rules.trials.size() == 1);
}

TEST_CASE("printing the file and reading it again gives the same rule base") {
  const std::string text = "language 1 unit small" + std::string(everything);
  slipcase::SourceSet sources;
  slipcase::Diagnostics diagnostics;
  const auto file = slipcase::language::parse(sources, sources.add("a.rules", text), diagnostics);
  const auto again = slipcase::test::resolve_texts({{"b.rules", slipcase::language::print(file)}});
  const auto first = resolve_text(everything);
  CHECK(again.text() == "");
  REQUIRE(first.rules.has_value());
  REQUIRE(again.rules.has_value());
  CHECK(slipcase::rulebase::canonical_text(*again.rules) ==
        slipcase::rulebase::canonical_text(*first.rules));
}
