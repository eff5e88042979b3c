// A short run of the self-check, and that it can fail.

#include <filesystem>

#include <doctest/doctest.h>
#include <fmt/core.h>

#include "self_check/page.h"

namespace {

using namespace self_check;

const Shipped& shipped_rules() {
  static const Shipped shipped = load_shipped(std::filesystem::path(SLIPCASE_RULES) / "six_speed");
  return shipped;
}

RunOptions short_run() {
  RunOptions options;
  options.jobs = 350;
  options.seed = 20310417;
  options.one_is_named = false;
  return options;
}

std::string words_of(const Calibration::Verdict& verdict) {
  return fmt::format("chi-square {:.1f}, limit {:.1f}, worst band off by {:.1f}",
                     verdict.chi_square, verdict.limit, verdict.worst);
}

double first_of_100(const Run& run) {
  return 100.0 * static_cast<double>(run.all().first) / static_cast<double>(run.all().jobs);
}

}  // namespace

TEST_CASE("chances come true as often as they say, and a true cause is mostly first") {
  const Run run = run_jobs(shipped_rules(), short_run());
  const auto causes = run.causes.verdict();
  CHECK_MESSAGE(causes.holds(), words_of(causes));
  const auto nothing_listed = run.nothing_listed.verdict();
  CHECK_MESSAGE(nothing_listed.holds(), words_of(nothing_listed));
  CHECK(first_of_100(run) >= 55.0);
  CHECK(first_of_100(run) <= 90.0);  // above that the draw would leak the truth
  CHECK(run.too_wide <= 4);
}

TEST_CASE("a ranking with rates of its own is found out") {
  for (const double factor : {5.0, 0.2}) {
    CAPTURE(factor);
    RunOptions options = short_run();
    options.jobs = 60;
    options.odds_times = factor;
    CHECK_FALSE(run_jobs(shipped_rules(), options).causes.verdict().holds());
  }
}

// Rules change more often than the long run is worth waiting for: an older page is only told of.
TEST_CASE("the page has the section, and says of which rules it is") {
  const auto page = std::filesystem::path(SLIPCASE_RULES).parent_path() / "docs" / "rulebase.md";
  const std::string made_with = rules_of_page(page);
  CHECK(made_with.size() == shipped_rules().knowledge.fingerprint().size());
  if (made_with != shipped_rules().knowledge.fingerprint())
    MESSAGE(
        "docs/rulebase.md: the self-check is of other rules; `self_check --page` writes it again");
}
