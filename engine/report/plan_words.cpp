#include "report/plan_words.h"

#include <algorithm>

#include <fmt/core.h>

#include "report/lines.h"
#include "report/words.h"
#include "slipcase/report.h"

namespace slipcase::report {

namespace {

constexpr const char* with_it = ", and with it: ";

/// "1, 3 to 6 and 9", from numbers in order.
std::string listed_runs(const std::vector<std::size_t>& numbers) {
  std::vector<std::string> runs;
  for (std::size_t first = 0; first < numbers.size();) {
    std::size_t last = first;
    while (last + 1 < numbers.size() && numbers[last + 1] == numbers[last] + 1) ++last;
    const bool is_run = last > first + 1;
    if (!is_run) last = first;
    runs.push_back(is_run ? fmt::format("{} to {}", numbers[first], numbers[last])
                          : fmt::format("{}", numbers[first]));
    first = last + 1;
  }
  return joined(runs, "and");
}

/// "New seals (mind 1), and with it: New bearing (mind 2)"
std::string named_together(const std::vector<StepReport>& repairs, CautionNumbers& cautions) {
  std::string text;
  for (const StepReport& repair : repairs)
    text += (text.empty() ? "" : with_it) + named(repair, cautions);
  return text;
}

}  // namespace

std::string Amounts::text(double cost) const {
  if (in_money_) {
    const std::string amount = fmt::format("{:.0f}", cost);
    return currency_.empty() ? amount : amount + " " + currency_;
  }
  constexpr double told_in_hours = 90.0;
  constexpr double minutes_an_hour = 60.0;
  if (cost >= told_in_hours) return fmt::format("{:.1f} hours", cost / minutes_an_hour);
  const std::string minutes = fmt::format("{:.0f}", cost);
  return minutes + (minutes == "1" ? " minute" : " minutes");
}

std::string counts(double chance) {
  return in_plain_counts(Probability::from(std::clamp(chance, 0.0, 1.0)).value());
}

std::string jobs(double chance) {
  const std::string often = counts(chance);
  return (often == "none" ? "no" : often) + " jobs";
}

std::string CautionNumbers::of(const std::vector<CautionReport>& cautions) {
  std::vector<std::size_t> numbers;
  for (const CautionReport& caution : cautions) {
    const auto at = std::ranges::find(known_, caution.id, &CautionReport::id);
    numbers.push_back(static_cast<std::size_t>(at - known_.begin()) + 1);
    if (at == known_.end()) known_.push_back(caution);
  }
  std::ranges::sort(numbers);
  return numbers.empty() ? "" : "mind " + listed_runs(numbers);
}

std::string CautionNumbers::list(std::size_t width) const {
  std::string out;
  for (std::size_t i = 0; i < known_.size(); ++i)
    out += led(fmt::format(" {:>2}", i + 1), 4, known_[i].says, width);
  return out;
}

std::string care_lines(const std::vector<CautionReport>& cautions, std::size_t width,
                       CautionNumbers& numbers) {
  const std::string mind = numbers.of(cautions);
  return mind.empty() ? "" : wrapped("Because of what was seen: " + mind + ".", width, 1, 2);
}

std::string together(const std::vector<StepReport>& repairs) {
  std::string text;
  for (const StepReport& repair : repairs) text += (text.empty() ? "" : with_it) + repair.says;
  return text;
}

std::string plan_in_short(const std::vector<RepairRound>& plan) {
  if (plan.empty()) return "no repair of the rules is worth its cost";
  std::string text;
  for (const RepairRound& round : plan)
    text += (text.empty() ? "" : "; if that does not help: ") + together(round.repairs);
  return text;
}

bool same_repairs(const std::vector<RepairRound>& a, const std::vector<RepairRound>& b) {
  return std::ranges::equal(a, b, [](const RepairRound& x, const RepairRound& y) {
    return std::ranges::equal(x.repairs, y.repairs, {}, &StepReport::id, &StepReport::id);
  });
}

std::string still_missing(const std::vector<std::string>& readings) {
  constexpr std::size_t most_named = 4;
  if (readings.empty()) return {};
  std::string text = "still missing: ";
  for (std::size_t i = 0; i < readings.size() && i < most_named; ++i)
    text += (i == 0 ? "" : ", ") + readings[i];
  if (readings.size() > most_named)
    text += fmt::format(" and {} more", readings.size() - most_named);
  return text;
}

std::string named(const StepReport& step, CautionNumbers& cautions) {
  const std::string mind = cautions.of(step.cautions);
  const std::string missing = still_missing(step.still_missing);
  return step.says + (missing.empty() ? "" : " (" + missing + ")") +
         (mind.empty() ? "" : " (" + mind + ")");
}

std::string step_lines(const std::vector<StepReport>& steps, std::string_view lead,
                       std::size_t width, CautionNumbers& cautions, std::size_t indent) {
  std::string out;
  for (const StepReport& step : steps) {
    out += wrapped(fmt::format("{}{}", lead, named(step, cautions)), width, indent, 2);
  }
  return out;
}

std::string steps_in_short(const std::vector<StepReport>& steps, std::string_view lead,
                           std::size_t width, CautionNumbers& cautions) {
  if (steps.empty()) return {};
  std::string names;
  for (const StepReport& step : steps) {
    names += (names.empty() ? "" : "; ") + named(step, cautions);
  }
  return wrapped(fmt::format("{}{}", lead, names), width, 5, 2);
}

std::string round_lines(const std::vector<RepairRound>& plan, std::size_t round,
                        const Amounts& amounts, std::size_t width, CautionNumbers& cautions,
                        bool all) {
  const RepairRound& here = plan.at(round);
  // What comes first was told before, with its cautions.
  const std::string what =
      here.comes_first ? together(here.repairs) : named_together(here.repairs, cautions);
  std::string out = two_sided(what, amounts.text(here.cost), width, 5, 2);
  out.replace(0, 3, fmt::format("{:>3}", round + 1));
  const std::string_view done = here.comes_first ? "comes first; ends the complaint in "
                                : round == 0     ? "ends the complaint in "
                                                 : "with this the complaint has ended in ";
  out += wrapped(fmt::format("{}{} like this", done, jobs(here.ends)), width, 5, 2);
  if (here.comes_first) return out;
  const auto steps = [&](const std::vector<StepReport>& list, std::string_view lead) {
    return all ? step_lines(list, lead, width, cautions)
               : steps_in_short(list, lead, width, cautions);
  };
  out += steps(here.before, "before it: ");
  out += steps(here.after, "after it: ");
  for (const StepReport& repair : here.repairs) {
    if (all && !repair.how.empty()) out += wrapped(repair.how, width, 5, 2);
  }
  return out;
}

std::vector<RepairRound> behind_first(const std::vector<RepairRound>& plan) {
  const bool first = !plan.empty() && plan.front().comes_first;
  return {plan.begin() + (first ? 1 : 0), plan.end()};
}

std::string cost_note(const NextAdvice& advice, std::size_t width) {
  const Amounts amounts(advice);
  const double open = advice.plan.empty() ? 1.0 : 1.0 - advice.plan.back().ends;
  std::string text = fmt::format(
      "Costs are means over jobs like this: {} each time the car comes back with it, and {} where "
      "nothing planned ends it ({}, {} of the mean).",
      amounts.text(advice.comeback), amounts.text(advice.unsolved), jobs(open),
      amounts.text(open * advice.unsolved));
  if (advice.unsolved < advice.dearest)
    text += fmt::format(
        " That is less than the dearest repair costs ({}), so giving up is planned before it: set "
        "`unsolved` higher.",
        amounts.text(advice.dearest));
  if (advice.in_money) {
    const std::string currency = advice.currency.empty() ? "" : " " + advice.currency;
    text += fmt::format(" Work counts {:g}{} an hour.", advice.labour_rate, currency);
  } else {
    text += " Parts do not count: no hourly rate is given.";
  }
  return wrapped(text, width, 1, 2);
}

std::string complaint_lines(const NextAdvice& advice, std::size_t width) {
  std::string out;
  for (const FindingReport& finding : advice.complaint)
    out += wrapped(seen_text(finding.says, finding.state, finding.grade), width, 1, 2);
  if (advice.complaint_assumed) {
    out += wrapped(
        "Assumed: nothing that was seen is named as the complaint, so everything seen is taken for "
        "it.",
        width, 1, 2);
  }
  for (const StepReport& repair : advice.tried)
    out += wrapped("Done already, and it did not help: " + repair.says, width, 1, 2);
  return out;
}

std::string closing_lines(std::size_t width) {
  return wrapped(
      "Worked out from the facts and counts given, not a verdict. Limits and procedures "
      "are the manufacturer's: check its service information, and confirm before "
      "opening.",
      width, 1, 0);
}

}  // namespace slipcase::report
