// What the reports about plans share: amounts, steps, rounds of repairs, cautions.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "slipcase/next.h"

namespace slipcase::report {

/// Costs as people say them: "1120 EUR", "45 minutes", "2.5 hours".
class Amounts {
 public:
  explicit Amounts(const NextAdvice& advice)
      : in_money_(advice.in_money), currency_(advice.currency) {}

  [[nodiscard]] std::string text(double cost) const;

 private:
  bool in_money_;
  std::string currency_;
};

/// A chance that may carry rounding errors, in counts.
[[nodiscard]] std::string counts(double chance);

/// "about 7 of 10 jobs", "no jobs"
[[nodiscard]] std::string jobs(double chance);

/// Each caution once, with a number that steps refer to.
class CautionNumbers {
 public:
  /// "mind 1 and 3" for a step, "" where it needs none.
  [[nodiscard]] std::string of(const std::vector<CautionReport>& cautions);
  /// All that were referred to.
  [[nodiscard]] std::string list(std::size_t width) const;

 private:
  std::vector<CautionReport> known_;
};

/// That what was seen needs care by itself; "" where it needs none.
[[nodiscard]] std::string care_lines(const std::vector<CautionReport>& cautions, std::size_t width,
                                     CautionNumbers& numbers);

/// "New seals, and with it New bearing": repairs done together.
[[nodiscard]] std::string together(const std::vector<StepReport>& repairs);

/// The plan behind what comes first.
[[nodiscard]] std::vector<RepairRound> behind_first(const std::vector<RepairRound>& plan);

/// "A; if that does not help B", "nothing that the rules know" for an empty plan.
[[nodiscard]] std::string plan_in_short(const std::vector<RepairRound>& plan);

[[nodiscard]] bool same_repairs(const std::vector<RepairRound>& a,
                                const std::vector<RepairRound>& b);

/// Steps with their cautions, one a line, behind a lead such as "before it: ".
[[nodiscard]] std::string step_lines(const std::vector<StepReport>& steps, std::string_view lead,
                                     std::size_t width, CautionNumbers& cautions,
                                     std::size_t indent = 5);

/// Steps by name in one paragraph behind a lead; nothing for none.
[[nodiscard]] std::string steps_in_short(const std::vector<StepReport>& steps,
                                         std::string_view lead, std::size_t width,
                                         CautionNumbers& cautions);

/// "still missing: fill_pressure of B2"; nothing where nothing is.
[[nodiscard]] std::string still_missing(const std::vector<std::string>& readings);

/// "Check the level (mind 1 and 3)"
[[nodiscard]] std::string named(const StepReport& step, CautionNumbers& cautions);

/// One round of a plan, numbered, with cost, what comes before, its cautions and the chance after
/// it; `all`: with how it is done.
[[nodiscard]] std::string round_lines(const std::vector<RepairRound>& plan, std::size_t round,
                                      const Amounts& amounts, std::size_t width,
                                      CautionNumbers& cautions, bool all);

/// What an expected cost is made of.
[[nodiscard]] std::string cost_note(const NextAdvice& advice, std::size_t width);

/// What is taken for the complaint, and what was tried against it.
[[nodiscard]] std::string complaint_lines(const NextAdvice& advice, std::size_t width);

/// What every report about plans ends with, after the cautions of its steps.
[[nodiscard]] std::string closing_lines(std::size_t width);

}  // namespace slipcase::report
