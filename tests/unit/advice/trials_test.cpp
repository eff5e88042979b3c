// Trials on small invented rules: what passes, what fails and how, and which lines they depend on.
#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <string>

#include <doctest/doctest.h>

#include "advice/judge_trial.h"
#include "advice/rule_lines.h"
#include "advice/trial_card.h"
#include "advice/trial_coverage.h"
#include "evaluation/bind.h"
#include "evaluation/evaluator.h"
#include "support/ground_bench.h"

using namespace slipcase;
using advice::TriedTrial;

namespace {

constexpr std::size_t memory = std::size_t{1} << 26;

/// Rules with trials, ready to run them.
struct TrialBench {
  explicit TrialBench(const std::string& text)
      : ground(text), network(model::build_network(ground.ground, diagnostics)) {}

  [[nodiscard]] evaluation::JobFacts facts(const rulebase::Trial& trial) {
    auto bound =
        evaluation::bind(*ground.ground, advice::card_of(trial, *ground.ground), diagnostics);
    if (!bound) test::give_up(diagnostics, ground.sources);
    return std::move(*bound);
  }

  [[nodiscard]] TrialReport run(std::size_t index = 0) {
    const rulebase::Trial& trial = ground.rules->trials.at(index);
    const auto states = evaluation::evaluate(ground.ground, facts(trial));
    advice::JobModel job(network, states, memory);
    return advice::judge_trial(trial, job, ground.sources);
  }

  [[nodiscard]] TrialCoverage coverage() {
    std::vector<TriedTrial> tried;
    for (const auto& trial : ground.rules->trials) tried.push_back({&trial, facts(trial)});
    return advice::trial_coverage(network, tried, ground.sources, memory);
  }

  test::GroundBench ground;
  Diagnostics diagnostics;
  model::RuleNetwork network;
};

// Every line that can be taken out stands on a line of its own.
const std::string rules = R"(
detail old : yes or no asks "Old?"
detail towing : yes or no asks "Does it tow?"
event values_cleared
reading fill_pressure of element : pressure
finding slips of element asks "Slips?" grade some grade much
    otherwise some or more in 4, much in 1 of 100 jobs
finding smell asks "Burnt smell?" otherwise in 5 of 100 jobs
finding whine asks "Whine?" otherwise in 5 of 100 jobs
finding up of element asks "Up?"
    when fill_pressure of element > 50 mbar
    otherwise in 3 of 100 jobs
finding warm asks "Warm?" otherwise in 5 of 100 jobs
finding cool asks "Cool?" otherwise in 5 of 100 jobs
at most one of warm, cool
inside low_pressure
    otherwise in 1 of 100 jobs
    shows whine in 7 of 10 jobs
    shows up of K1 in 6 of 10 jobs
cause worn of element
    group hard_part
    found in 1 of 20 jobs
    becomes 4 times as likely when towing
    becomes 3 times as likely when old
    shows slips of element some or more in 8, much in 5 of 10 jobs
    shows smell in 6 of 10 jobs
    shows up of element in 7 of 10 jobs
cause pump_worn
    found in 1 of 40 jobs
    never when old
    shows low_pressure in 9 of 10 jobs
    shows warm in 3 of 10 jobs
    then causes worn of K1 in 5 of 10 jobs
cause rare
    found in 1 of 1000 jobs
    shows cool in 9 of 10 jobs
check look of element
    takes 5 minutes
    flags worn of element in 8 of 10 bad, in 1 of 10 good
distrust cleared
    when happened values_cleared
    sets aside fill_pressure, up
    not judged group hard_part
    because "values were cleared"
)";

std::string trial(const std::string& lines) {
  return rules + "trial \"t\"\n    opened 2031-04-17\n" + lines;
}

/// The failures as text: "expected -> what stood there".
std::string failures(const std::string& lines) {
  std::string text;
  const TrialReport report = TrialBench(trial(lines)).run();
  for (const TrialFailure& failure : report.failures) {
    text += (text.empty() ? "" : "; ") + failure.expected + " ->";
    for (const TrialCause& cause : failure.causes)
      text += ' ' + cause.id + " at " + std::to_string(cause.place);
    if (!failure.instead.empty()) text += ' ' + failure.instead;
  }
  return text + report.not_run;
}

bool untried(const TrialCoverage& coverage, const std::string& of, const std::string& text) {
  return std::any_of(coverage.untried.begin(), coverage.untried.end(),
                     [&](const auto& line) { return line.of == of && line.text == text; });
}

/// What a trial's expectations look at, in rules read anew.
struct Seen {
  std::map<std::string, double> chances;
  std::string states;
};

std::optional<Seen> seen_by(const std::string& text) {
  TrialBench bench(text);
  const rulebase::Trial& written = bench.ground.rules->trials.front();
  const auto states = evaluation::evaluate(bench.ground.ground, bench.facts(written));
  advice::JobModel job(bench.network, states, memory);
  const auto solved = job.solve(job.evidence());
  const auto* posterior = std::get_if<network::Posterior>(&solved);
  if (posterior == nullptr) return std::nullopt;
  Seen seen;
  for (const auto& line : written.expectations) {
    for (const auto& at : advice::causes_in(line)) {
      const auto cause = advice::ground_cause(job.ground(), at);
      seen.chances[job.ground().name_of(cause)] = job.chance(*posterior, cause).value();
    }
    if (const auto* state = std::get_if<rulebase::TrialExpectation::State>(&line.what)) {
      const auto& found = states.findings.at(advice::ground_finding(job.ground(), *state).at());
      seen.states += std::to_string(static_cast<int>(found.state)) + ' ' +
                     std::to_string(found.at_least) + std::to_string(found.at_most) + '\n';
    }
    if (const auto* not_judged = std::get_if<rulebase::TrialExpectation::NotJudged>(&line.what)) {
      const auto cause = advice::ground_cause(job.ground(), not_judged->cause);
      seen.states += states.judged.at(cause.at()) ? "judged\n" : "not judged\n";
    }
  }
  return seen;
}

bool depends(const Seen& with, const std::optional<Seen>& without) {
  if (!without || without->states != with.states) return true;
  return std::any_of(with.chances.begin(), with.chances.end(), [&](const auto& chance) {
    return std::fabs(without->chances.at(chance.first) - chance.second) > 0.01;
  });
}

std::string without_text_line(const std::string& text, std::uint32_t line) {
  std::size_t begin = 0;
  for (std::uint32_t i = 1; i < line; ++i) begin = text.find('\n', begin) + 1;
  return text.substr(0, begin) + text.substr(text.find('\n', begin) + 1);
}

}  // namespace

TEST_CASE("a trial passes when everything it expects comes out") {
  CHECK(failures("with slips of K2 much, smell, no whine, towing is yes\n"
                 "with fill_pressure of K2 is 80 mbar, no look of K1\n"
                 "expect worn of K2 first\n"
                 "expect worn of K2 among first 3\n"
                 "expect worn of K2 above 9 of 10\n"
                 "expect pump_worn below 1 of 10\n"
                 "expect worn of K2 before pump_worn\n"
                 "expect slips of K2 much\n"
                 "expect slips of K2\n"
                 "expect up of K2\n"
                 "expect no whine\n"
                 "expect warm unknown") == "");
}

TEST_CASE("a place, a chance and an order that did not come out are told with what did") {
  const std::string with = "with slips of K2 much, smell\n";
  CHECK(failures(with + "expect pump_worn first") == "pump_worn first -> pump_worn at 6");
  CHECK(failures(with + "expect worn of K1 among first 1") ==
        "worn of K1 among first 1 -> worn of K1 at 2");
  CHECK(failures(with + "expect worn of K2 below 1 of 10") ==
        "worn of K2 below 1 of 10 -> worn of K2 at 1");
  CHECK(failures(with + "expect pump_worn above 1 of 2") ==
        "pump_worn above 1 of 2 -> pump_worn at 6");
  CHECK(failures(with + "expect pump_worn before worn of K2") ==
        "pump_worn before worn of K2 -> pump_worn at 6 worn of K2 at 1");
}

TEST_CASE("a finding in another state is told with its state") {
  CHECK(failures("with slips of K2 some\nexpect slips of K2 much") ==
        "slips of K2 much -> slips of K2 is there (some)");
  CHECK(failures("with no whine\nexpect whine") == "whine -> whine is not there");
  CHECK(failures("expect no smell") == "no smell -> smell is unknown");
  CHECK(failures("with warm\nexpect cool unknown") == "cool unknown -> cool is left out");
  CHECK(failures("with values_cleared on 2031-04-01, fill_pressure of K2 is 80 mbar\n"
                 "expect up of K2") == "up of K2 -> up of K2 is set aside");
}

TEST_CASE("a cause that may not be judged has no place") {
  const std::string with = "with values_cleared on 2031-04-01, slips of K2 much\n";
  CHECK(failures(with + "expect worn of K2 not judged\nexpect pump_worn first") == "");
  CHECK(failures(with + "expect worn of K2 first") == "worn of K2 first -> worn of K2 at 0");
  CHECK(failures(with + "expect pump_worn not judged") == "pump_worn not judged -> pump_worn at 1");
  const TrialReport report = TrialBench(trial(with + "expect worn of K2 first")).run();
  REQUIRE(report.failures.size() == 1);
  CHECK(report.failures.front().causes.front().not_judged_because == "values were cleared");
  CHECK(report.first.size() == 2);
}

TEST_CASE("the next check is the one that answers the most telling open question") {
  const std::string with = "with slips of K2 some\n";
  CHECK(failures(with + "expect next look of K2") == "");
  CHECK(failures(with + "expect next look of K1") == "next look of K1 -> next is look of K2");
}

TEST_CASE("facts that cannot be true together are a trial that does not run") {
  const TrialReport report = TrialBench(R"(
finding f asks "F?" otherwise in 1 of 50 jobs
cause c
    found in 20 of 20 jobs
    shows f in 9 of 9 jobs
trial "t"
    opened 2031-04-17
    with no f
    expect c first)")
                                 .run();
  CHECK_FALSE(report.passed());
  CHECK(report.not_run == "its facts cannot all be true under these rules: f not there");
  CHECK(report.first.empty());
}

TEST_CASE("codes, dates and words of a trial are facts as on a card") {
  const std::string text = R"(
detail use : one of town, towing asks "Use?"
detail built : date
event serviced
finding ratio when stored P0733 otherwise in 1 of 100 jobs
finding pending_only when pending P0734 otherwise in 1 of 100 jobs
finding engine_code when stored P0300 otherwise in 1 of 100 jobs
finding tows when use is towing otherwise in 1 of 100 jobs
finding recent when built > 2029-01-01 otherwise in 1 of 100 jobs
finding fresh when distance since serviced < 3000 km otherwise in 1 of 100 jobs
finding own when happened serviced by us otherwise in 1 of 100 jobs
trial "t"
    opened 2031-04-17
    odometer 120000 km
    with pending P0734, no stored P0300, use is towing, built is 2030-05-01
    with serviced on 2031-03-01 at 118000 km by us
    expect no ratio
    expect pending_only
    expect no engine_code
    expect tows
    expect recent
    expect fresh
    expect own)";
  CHECK(TrialBench(text).run().failures.empty());
}

TEST_CASE("a message about a trial's fact points at the fact") {
  TrialBench bench(
      trial("with no values_cleared, values_cleared on 2031-03-01\nexpect rare first"));
  const auto card = advice::card_of(bench.ground.rules->trials.front(), *bench.ground.ground);
  CHECK_FALSE(evaluation::bind(*bench.ground.ground, card, bench.diagnostics));
  REQUIRE(bench.diagnostics.error_count() == 1);
  const Diagnostic& message = bench.diagnostics.list().front();
  CHECK(message.name == "card-happened-never");
  CHECK(bench.ground.sources.text_at(*message.place) == "no values_cleared");
}

TEST_CASE("a line that moves no expected chance is listed and one that moves it is not") {
  const TrialCoverage coverage =
      TrialBench(trial("with slips of K2 much, no whine, towing is yes\nexpect worn of K2 first"))
          .coverage();
  const std::string slips = "shows slips of element some or more in 8, much in 5 of 10 jobs";
  CHECK_FALSE(untried(coverage, "worn", slips));
  CHECK_FALSE(untried(coverage, "worn", "becomes 4 times as likely when towing"));
  CHECK_FALSE(untried(coverage, "worn", "worn"));
  CHECK_FALSE(untried(coverage, "slips", "slips"));
  CHECK(untried(coverage, "worn", "shows smell in 6 of 10 jobs"));
  CHECK(untried(coverage, "worn", "becomes 3 times as likely when old"));
  CHECK(untried(coverage, "pump_worn", "never when old"));
  CHECK(untried(coverage, "low_pressure", "shows whine in 7 of 10 jobs"));
  CHECK(untried(coverage, "rare", "rare"));
  CHECK(untried(coverage, "cleared", "cleared"));
  CHECK(coverage.kinds.size() == 10);
  for (const KindCoverage& kind : coverage.kinds) {
    const auto open =
        std::count_if(coverage.untried.begin(), coverage.untried.end(),
                      [&](const UntriedLine& line) { return line.kind == kind.kind; });
    CHECK(kind.lines == kind.depended_on + static_cast<std::size_t>(open));
  }
}

TEST_CASE("without trials nothing is depended on") {
  for (const KindCoverage& kind : TrialBench(rules).coverage().kinds) CHECK(kind.depended_on == 0);
}

TEST_CASE("a trial of states depends on conditions, lists and distrusts, not on counts") {
  const TrialCoverage coverage = TrialBench(trial("with warm, fill_pressure of K2 is 80 mbar\n"
                                                  "expect cool left out\nexpect up of K2"))
                                     .coverage();
  CHECK_FALSE(untried(coverage, "up", "fill_pressure of element > 50 mbar"));
  CHECK_FALSE(untried(coverage, "", "at most one of warm, cool"));
  CHECK_FALSE(untried(coverage, "cool", "cool"));
  CHECK(untried(coverage, "cleared", "cleared"));
  CHECK(untried(coverage, "worn", "shows up of element in 7 of 10 jobs"));

  const TrialCoverage of_distrust =
      TrialBench(trial("with values_cleared on 2031-04-01\nexpect worn of K1 not judged"))
          .coverage();
  CHECK_FALSE(untried(of_distrust, "cleared", "cleared"));
}

// The referee reads the rules again with that line of the text gone.
TEST_CASE("a line is depended on exactly when the rules without it give something else") {
  const std::vector<std::string> trials{
      "with slips of K2 much, smell, towing is yes, no look of K1\nexpect worn of K2 first",
      "with slips of K1 some, whine, old is no\nexpect worn of K1 above 1 of 9\n"
      "expect pump_worn below 9 of 10",
      "with whine, fill_pressure of K1 is 80 mbar\nexpect pump_worn before worn of K1",
      "with fill_pressure of K1 is -20 mbar, slips of K1 some\nexpect worn of K1 among first 5",
      "with whine, warm, old is yes\nexpect pump_worn below 1 of 10\nexpect worn of K1 first",
      "with no whine, no smell, cool\nexpect pump_worn below 1 of 100\nexpect rare above 1 of 90",
      "with whine, look of K1, no up of K1\nexpect worn of K1 above 1 of 2\nexpect no up of K1",
      "with values_cleared on 2031-04-01, whine, up of K1\nexpect up of K1 set aside\n"
      "expect pump_worn first\nexpect worn of K1 not judged"};
  std::size_t compared = 0;
  for (const std::string& lines : trials) {
    CAPTURE(lines);
    const std::string text = trial(lines);
    TrialBench bench(text);
    const TrialCoverage coverage = bench.coverage();
    const auto with = seen_by(text);
    REQUIRE(with);
    for (const advice::RuleLine& line : advice::lines_of(*bench.ground.rules)) {
      const bool one_line_of_text =
          line.kind != RuleLineKind::cause && line.kind != RuleLineKind::finding &&
          line.kind != RuleLineKind::distrust && line.kind != RuleLineKind::flags;
      if (!one_line_of_text) continue;
      // The bench writes two lines in front of the text.
      const std::uint32_t at =
          bench.ground.sources.position(line.place.source, line.place.begin).line - 2;
      const std::string words = advice::one_line(bench.ground.sources, line.place);
      CAPTURE(words);
      CHECK(untried(coverage, line.of, words) ==
            !depends(*with, seen_by(without_text_line(text, at))));
      ++compared;
    }
  }
  CHECK(compared == trials.size() * 14);
}
