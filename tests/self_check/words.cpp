#include "self_check/words.h"

#include <algorithm>
#include <cmath>

#include <boost/math/distributions/binomial.hpp>
#include <fmt/core.h>

namespace self_check {

namespace {

constexpr std::size_t pairs_shown = 10;
constexpr std::size_t worst_shown = 4;

double share(std::size_t hits, std::size_t total) {
  return total == 0 ? 0.0 : static_cast<double>(hits) / static_cast<double>(total);
}

template <class Value>
Value median_of(std::vector<Value> values) {
  if (values.empty()) return {};
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

using Cells = std::vector<std::string>;

std::string row_of(const Cells& cells) {
  std::string text = "|";
  for (const std::string& cell : cells) text += " " + cell + " |";
  return text + "\n";
}

std::string head_of(const Cells& cells) {
  return row_of(cells) + row_of(Cells(cells.size(), "---"));
}

/// A row with one cell for each of the three settings.
template <class Cell>
std::string row_for_each(const std::string& title, const Results& results, Cell cell) {
  return row_of({title, cell(results.shop), cell(results.every_second), cell(results.everything)});
}

std::string row_of_absent(const std::string& title, const AbsentRun& run,
                          std::size_t FirstPlaces::*count) {
  return row_of({title, of_100_within(run.with_it.*count, run.with_it.jobs),
                 of_100_within(run.without_it.*count, run.without_it.jobs)});
}

std::string row_of_absent(const std::string& title, const AbsentRun& run,
                          double FirstPlaces::*sum) {
  const auto mean = [sum](const FirstPlaces& places) {
    return of_100(places.*sum / static_cast<double>(std::max<std::size_t>(places.jobs, 1)));
  };
  return row_of({title, mean(run.with_it), mean(run.without_it)});
}

Places all_jobs(const Run& run) { return run.all(); }
Places one_fault(const Run& run) { return run.one_fault; }
Places several_faults(const Run& run) { return run.several_faults; }

std::string rows_of_places(const Results& results, const std::string& whose,
                           Places (*places)(const Run&)) {
  const auto first = [places](const Run& run) {
    return of_100_within(places(run).first, places(run).jobs);
  };
  const auto among_three = [places](const Run& run) {
    return of_100_within(places(run).among_three, places(run).jobs);
  };
  return row_for_each("a true cause is first" + whose, results, first) +
         row_for_each("a true cause is among the first three" + whose, results, among_three);
}

std::string rows_of_jobs(const Results& results) {
  const auto of_ranked = [&](const std::string& title, auto count) {
    return row_for_each(title, results,
                        [&](const Run& run) { return of_100(count(run), run.widths.size()); });
  };
  return row_for_each("jobs ranked", results,
                      [](const Run& run) { return fmt::format("{}", run.widths.size()); }) +
         row_for_each("findings known, of those that say something", results,
                      [](const Run& run) { return of_100(run.draws.known, run.draws.findings); }) +
         row_for_each("faults in a job, in the mean", results,
                      [](const Run& run) {
                        return fmt::format("{:.2f}", share(run.faults, run.widths.size()));
                      }) +
         of_ranked("jobs with nothing listed wrong",
                   [](const Run& run) { return run.without_fault; }) +
         of_ranked("jobs with one fault", [](const Run& run) { return run.one_fault.jobs; }) +
         of_ranked("jobs with two or more", [](const Run& run) { return run.several_faults.jobs; });
}

std::string rows_of_chances(const Results& results) {
  const auto chi_square = [](const Calibration::Verdict& verdict) {
    return fmt::format("{:.1f} ({:.1f})", verdict.chi_square, verdict.limit);
  };
  const auto brier = [&](const std::string& title, double BrierScore::*part) {
    return row_for_each(title, results, [part](const Run& run) {
      return fmt::format("{:.5f}", run.causes.brier().*part);
    });
  };
  return row_for_each("chi-square of the chances given (limit)", results,
                      [&](const Run& run) { return chi_square(run.causes.verdict()); }) +
         row_for_each("the same for \"nothing listed\"", results,
                      [&](const Run& run) { return chi_square(run.nothing_listed.verdict()); }) +
         brier("Brier score, 0 if all were foreseen", &BrierScore::score) +
         brier("of it by chances that do not come true", &BrierScore::reliability) +
         brier("with one and the same chance for all", &BrierScore::uncertainty);
}

std::string rows_of_width(const Results& results) {
  const auto widths = [](const Run& run) {
    const unsigned largest = run.widths.empty() ? 0 : std::ranges::max(run.widths);
    return fmt::format("{} and {}", median_of(run.widths), largest);
  };
  return row_for_each("width, in the median and at most", results, widths) +
         row_for_each("jobs too wide to rank", results,
                      [](const Run& run) { return fmt::format("{}", run.too_wide); });
}

std::string row_of_band(const std::string& name, const Band& band) {
  return row_of(
      {name, fmt::format("{}", band.count), fmt::format("{:.2f}", 100.0 * band.mean_given()),
       fmt::format("{:.2f}", 100.0 * band.share_present()), fmt::format("{:+.1f}", band.off_by())});
}

}  // namespace

std::string of_100(double value) { return fmt::format("{:.1f} of 100", 100.0 * value); }

std::string of_100(std::size_t hits, std::size_t total) { return of_100(share(hits, total)); }

std::string of_100_within(std::size_t hits, std::size_t total) {
  using Binomial = boost::math::binomial_distribution<double>;
  if (total == 0) return "none";
  const auto trials = static_cast<double>(total);
  const auto successes = static_cast<double>(hits);
  const double low = Binomial::find_lower_bound_on_p(trials, successes, 0.025);
  const double high = Binomial::find_upper_bound_on_p(trials, successes, 0.025);
  return fmt::format("{} ({:.1f} to {:.1f})", of_100(hits, total), 100.0 * low, 100.0 * high);
}

std::string list_of(const std::vector<std::string>& names) {
  std::string text;
  for (const std::string& name : names) text += (text.empty() ? "`" : ", `") + name + "`";
  return text;
}

std::string table_of_settings(const Results& results) {
  return head_of({"", "as in a shop", "every second finding, at random", "everything known"}) +
         rows_of_jobs(results) + rows_of_places(results, "", all_jobs) +
         rows_of_places(results, ", one fault", one_fault) +
         rows_of_places(results, ", two faults or more", several_faults) +
         rows_of_chances(results) + rows_of_width(results);
}

std::string table_of_bands(const Run& run) {
  std::string text = head_of({"chance given, of 100", "causes", "mean given", "truly present",
                              "off by, in sampling errors"});
  double low = 0.0;
  for (std::size_t i = 0; i < Calibration::upper_ends.size(); ++i) {
    const double high = Calibration::upper_ends.at(i);
    const std::string name = fmt::format("{:g} to {:g}", 100.0 * low, 100.0 * high);
    if (run.causes.bands().at(i).count > 0) text += row_of_band(name, run.causes.bands().at(i));
    low = high;
  }
  return text + row_of_band("all", run.causes.all());
}

std::string table_of_worst_causes(const Results& results) {
  std::vector<std::pair<std::string, Band>> causes(results.shop.by_cause.begin(),
                                                   results.shop.by_cause.end());
  std::ranges::stable_sort(causes, std::greater{},
                           [](const auto& entry) { return std::fabs(entry.second.off_by()); });
  std::string text = head_of(
      {"cause, all members", "given, added up", "truly present", "off by", "off by, both known"});
  for (std::size_t i = 0; i < std::min(worst_shown, causes.size()); ++i) {
    const auto& [name, band] = causes[i];
    text += row_of({"`" + name + "`", fmt::format("{:.0f}", band.given),
                    fmt::format("{}", band.present), fmt::format("{:+.1f}", band.off_by()),
                    fmt::format("{:+.1f}", results.shop_both_known.by_cause.at(name).off_by())});
  }
  return text;
}

std::string table_of_known_shares() {
  std::string text =
      head_of({"known when the job is ranked (common practice, no source)", "of 100"});
  for (const KnownShare& entry : known_shares)
    text +=
        row_of({std::string(words_for(entry.kind)), fmt::format("{:.0f}", 100.0 * entry.share)});
  return text;
}

std::string table_of_absent(const AbsentRun& run) {
  std::string text = head_of({fmt::format("{} jobs with one fault", run.with_it.jobs),
                              "its cause is in the rules", "its cause is not"});
  text += row_of_absent("some cause gets 50 of 100 or more", run, &FirstPlaces::half);
  text += row_of_absent("some cause gets 90 of 100 or more", run, &FirstPlaces::nine_of_ten);
  text += row_of_absent("mean chance of the first cause", run, &FirstPlaces::chance);
  text += row_of_absent("\"nothing listed\" above 50 of 100", run, &FirstPlaces::nothing_above);
  text += row_of_absent("mean chance of \"nothing listed\"", run, &FirstPlaces::nothing_listed);
  return text;
}

std::string table_of_pairs(const AbsentRun& run) {
  std::string text = head_of({"not in the rules", "named instead, at 50 of 100 or more",
                              "in its jobs", "mean chance it gets", "jobs drawn"});
  for (std::size_t i = 0; i < std::min(pairs_shown, run.pairs.size()); ++i) {
    const Misleading& pair = run.pairs[i];
    text += row_of({"`" + pair.absent + "`", pair.named, of_100(pair.named_half, pair.jobs),
                    of_100(pair.chance / static_cast<double>(pair.named_half)),
                    fmt::format("{}", pair.jobs)});
  }
  return text;
}

}  // namespace self_check
