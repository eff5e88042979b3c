// Draws jobs from the shipped rules, ranks them with what a shop would know, and says how that
// went.
//
//   self_check --page docs/rulebase.md      writes the section of that page
//   self_check --jobs 2000 --seed 7         prints it
//
// It measures whether rules and inference agree with themselves and how much can be told apart at
// best. Whether the rules agree with the world it cannot know.

#include <algorithm>
#include <exception>
#include <map>
#include <set>

#include <CLI/CLI.hpp>
#include <fmt/core.h>
#include <fmt/format.h>

#include "self_check/page.h"

namespace {

using namespace self_check;

struct Request {
  std::size_t jobs = 10000;
  std::uint64_t seed = 1;
  std::string page;
  std::string rules = SLIPCASE_RULES "/six_speed";
  std::size_t memory_megabytes = 1024;
  bool kinds = false;
};

RunOptions options_for(const Request& request, Setting setting, std::size_t share_of_jobs) {
  RunOptions options;
  options.setting = setting;
  options.jobs = std::max<std::size_t>(request.jobs / share_of_jobs, 1);
  options.seed = request.seed;
  options.memory_bytes = request.memory_megabytes << 20U;
  return options;
}

void report_times(const char* setting, const Run& run) {
  if (run.seconds.empty()) return;
  std::vector<double> sorted = run.seconds;
  std::ranges::sort(sorted);
  const auto worst = std::ranges::max_element(run.seconds) - run.seconds.begin();
  fmt::print(
      stderr,
      "{}: {} jobs, {} too wide; one ranking {:.1f} ms in the median, {:.1f} ms in 99 of 100, "
      "at worst {:.1f} ms (width {})\n",
      setting, run.seconds.size(), run.too_wide, 1e3 * sorted[sorted.size() / 2],
      1e3 * sorted[sorted.size() * 99 / 100], 1e3 * sorted.back(),
      run.widths[static_cast<std::size_t>(worst)]);
}

Results run_everything(const Shipped& shipped, const Request& request) {
  Results results;
  results.shop = run_jobs(shipped, options_for(request, Setting::as_in_a_shop, 1));
  report_times("as in a shop", results.shop);
  RunOptions both_known = options_for(request, Setting::as_in_a_shop, 1);
  both_known.one_is_named = false;
  results.shop_both_known = run_jobs(shipped, both_known);
  results.every_second = run_jobs(shipped, options_for(request, Setting::every_second, 5));
  report_times("every second finding", results.every_second);
  results.everything = run_jobs(shipped, options_for(request, Setting::everything, 10));
  report_times("everything known", results.everything);
  results.absent = run_absent(shipped, options_for(request, Setting::as_in_a_shop, 2));
  return results;
}

/// Which finding was taken for which kind: to be read again when checks or findings are renamed.
void list_kinds(const Shipped& shipped) {
  std::map<std::string, std::set<std::string>> findings;
  const auto kinds = finding_kinds(shipped);
  for (std::uint32_t f = 0; f < kinds.size(); ++f) {
    const std::string kind(kinds[f] ? words_for(*kinds[f])
                                    : "never used: no cause shows it, or nobody can know it");
    findings[kind].insert(shipped.ground().declaration(GroundFinding{f}).header.name);
  }
  for (const auto& [kind, names] : findings)
    fmt::print("{}:\n  {}\n", kind, fmt::join(names, ", "));
}

int serve(const Request& request) {
  const Shipped shipped = load_shipped(request.rules);
  if (request.kinds) {
    list_kinds(shipped);
    return 0;
  }
  const Results results = run_everything(shipped, request);
  const std::string command = fmt::format("self_check --jobs {} --seed {} --page docs/rulebase.md",
                                          request.jobs, request.seed);
  const std::string text = page_text(shipped, results, command);
  if (request.page.empty()) {
    fmt::print("{}", text);
  } else {
    write_page(request.page, text);
  }
  return 0;
}

}  // namespace

int main(int count, char** values) {
  Request request;
  CLI::App app{"Draws jobs from the shipped rules and ranks them", "self_check"};
  app.add_option("--jobs", request.jobs, "Jobs to draw")->capture_default_str();
  app.add_option("--seed", request.seed, "Seed of the draws")->capture_default_str();
  app.add_option("--page", request.page, "Page to write the section into; printed if left out");
  app.add_option("--rules", request.rules, "Folder of a unit, with jobs")->capture_default_str();
  app.add_option("--memory", request.memory_megabytes, "Megabytes one ranking may take")
      ->capture_default_str();
  app.add_flag("--kinds", request.kinds, "Only list how a shop comes to know which finding");
  CLI11_PARSE(app, count, values);
  try {
    return serve(request);
  } catch (const std::exception& problem) {
    fmt::print(stderr, "self_check: {}\n", problem.what());
    return 2;
  }
}
