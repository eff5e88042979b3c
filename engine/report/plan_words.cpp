#include "report/plan_words.h"

#include <algorithm>

#include <fmt/core.h>

#include "report/lines.h"
#include "report/words.h"
#include "slipcase/report.h"

namespace slipcase::report {

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

std::string CautionNumbers::of(const std::vector<CautionReport>& cautions) {
  std::vector<std::size_t> numbers;
  for (const CautionReport& caution : cautions) {
    const auto at = std::ranges::find(known_, caution.id, &CautionReport::id);
    numbers.push_back(static_cast<std::size_t>(at - known_.begin()) + 1);
    if (at == known_.end()) known_.push_back(caution);
  }
  std::ranges::sort(numbers);
  std::string text;
  for (std::size_t i = 0; i < numbers.size(); ++i) {
    const std::string_view before = i == 0 ? "mind " : i + 1 == numbers.size() ? " and " : ", ";
    text += fmt::format("{}{}", before, numbers[i]);
  }
  return text;
}

std::string CautionNumbers::list(std::size_t width) const {
  std::string out;
  for (std::size_t i = 0; i < known_.size(); ++i)
    out += led(fmt::format(" {:>2}", i + 1), 4, known_[i].says, width);
  return out;
}

std::string together(const std::vector<StepReport>& repairs) {
  std::string text;
  for (const StepReport& repair : repairs)
    text += (text.empty() ? "" : ", and with it: ") + repair.says;
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

std::string step_lines(const std::vector<StepReport>& steps, std::string_view lead,
                       std::size_t width, CautionNumbers& cautions, std::size_t indent) {
  std::string out;
  for (const StepReport& step : steps) {
    const std::string mind = cautions.of(step.cautions);
    out += wrapped(fmt::format("{}{}{}", lead, step.says, mind.empty() ? "" : " (" + mind + ")"),
                   width, indent, 2);
  }
  return out;
}

std::string steps_in_short(const std::vector<StepReport>& steps, std::string_view lead,
                           std::size_t width) {
  if (steps.empty()) return {};
  std::string names;
  for (const StepReport& step : steps) names += (names.empty() ? "" : "; ") + step.says;
  return wrapped(fmt::format("{}{}", lead, names), width, 5, 2);
}

std::string round_lines(const std::vector<RepairRound>& plan, std::size_t round,
                        const Amounts& amounts, std::size_t width, CautionNumbers& cautions,
                        bool all) {
  const RepairRound& here = plan.at(round);
  std::string out = two_sided(together(here.repairs), amounts.text(here.cost), width, 5, 2);
  out.replace(0, 3, fmt::format("{:>3}", round + 1));
  const std::string_view done = here.comes_first ? "comes first; ends the complaint in "
                                : round == 0     ? "ends the complaint in "
                                                 : "with this the complaint has ended in ";
  out += wrapped(fmt::format("{}{} jobs like this", done, counts(here.ends)), width, 5, 2);
  if (here.comes_first) return out;
  if (!all)
    return out + steps_in_short(here.before, "before it: ", width) +
           steps_in_short(here.after, "after it: ", width);
  out += step_lines(here.before, "before it: ", width, cautions);
  out += step_lines(here.after, "after it: ", width, cautions);
  for (const StepReport& repair : here.repairs) {
    const std::string mind = cautions.of(repair.cautions);
    if (!repair.how.empty() || !mind.empty())
      out += wrapped(repair.how + (mind.empty() ? "" : " (" + mind + ")"), width, 5, 2);
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
      "nothing planned ends it ({} jobs).",
      amounts.text(advice.comeback), amounts.text(advice.unsolved), counts(open));
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
        "Assumed: the card names no findings as the complaint, so everything seen is "
        "taken for it.",
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
