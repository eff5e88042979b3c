#include <doctest/doctest.h>

#include "report/lines.h"
#include "slipcase/report.h"

using namespace slipcase;

namespace {

// Invented.
TrialsRun failed_run() {
  TrialCause held_back{"worn of K2", "Worn lining in K2", *Probability::from(0.02345), 0,
                       "the values were cleared and nobody has driven the learning drive since"};
  TrialCause first{"leak of K2", "Leaking seal in K2", *Probability::from(0.613), 1, {}};
  TrialReport trial;
  trial.title = "a car whose battery was flat and that nobody has driven enough since then";
  trial.place = "own.rules:3:1";
  trial.failures = {{"worn of K2 first", "own.rules:6:12", {held_back}, {}},
                    {"flare of 2-3", "own.rules:7:12", {}, "flare of 2-3 is unknown"}};
  trial.first = {first};
  TrialsRun run;
  run.trials = {trial};
  run.causes = 2;
  run.causes_expected = 1;
  return run;
}

}  // namespace

TEST_CASE("a trial that failed tells what came out instead, within the width") {
  const std::string text = to_text(failed_run(), {60, false});
  CHECK(text.find("FAIL") != std::string::npos);
  CHECK(text.find("worn of K2 is not judged (2.345 of 100;") != std::string::npos);
  CHECK(text.find("but flare of 2-3 is unknown") != std::string::npos);
  CHECK(text.find("0 of 1 trials pass.") != std::string::npos);
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    CHECK(report::columns(std::string_view(text).substr(at, end - at)) <= 60);
    at = end + 1;
  }
}

TEST_CASE("how many causes are expected is told only of all trials together") {
  TrialsRun run = failed_run();
  CHECK(to_text(run).find("They expect 1 of 2 causes") != std::string::npos);
  run.left_out = 1;
  CHECK(to_text(run).find("They expect") == std::string::npos);
}
