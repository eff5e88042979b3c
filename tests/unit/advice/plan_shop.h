// A shop on small invented rules, and their counts once more for full enumeration.
#pragma once

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "advice/next_steps.h"
#include "advice/review_repairs.h"
#include "support/job_bench.h"

namespace slipcase::test::plan {

inline constexpr std::size_t memory = std::size_t{1} << 26;
inline constexpr double comeback = 30;
inline constexpr double unsolved = 900;

/// Minutes, so that parts do not count.
inline ShopCosts minutes() {
  ShopCosts costs;
  costs.comeback_minutes = comeback;
  costs.unsolved_minutes = unsolved;
  return costs;
}

class Shop {
 private:
  template <class Ask>
  auto with_model(const std::string& card, Ask&& ask) {
    const evaluation::JobFacts facts = bench_.facts(card);
    const evaluation::Evaluation states = evaluation::evaluate(bench_.shared_rules(), facts);
    advice::JobModel job(network_, states, memory, advice::tried_in_vain(network_, states, facts));
    return ask(job, facts);
  }

 public:
  explicit Shop(const std::string& rules)
      : bench_(rules), network_(model::build_network(bench_.shared_rules(), diagnostics_)) {}

  NextAdvice next(const std::string& card) { return std::get<NextAdvice>(next_result(card)); }
  NextResult next_result(const std::string& card) {
    return with_model(card, [&](advice::JobModel& job, const evaluation::JobFacts& facts) {
      return advice::next_steps(job, facts, {}, minutes(), {});
    });
  }
  Review review(const std::string& card, const std::vector<std::string>& repairs) {
    return std::get<Review>(review_result(card, repairs));
  }
  ReviewResult review_result(const std::string& card, const std::vector<std::string>& repairs) {
    return with_model(card, [&](advice::JobModel& job, const evaluation::JobFacts& facts) {
      return advice::review_repairs(job, facts, {}, minutes(), repairs, {});
    });
  }

 private:
  test::JobBench bench_;
  Diagnostics diagnostics_;
  model::RuleNetwork network_;
};

// The counts of the rules below once more, for the enumeration.
struct Row {
  double found, slips, smell, noise;
};
inline constexpr std::array<Row, 3> rows{
    {{0.1, 0.8, 0.7, 0.0},    // lining
     {0.05, 0.6, 0.0, 0.0},   // seal
     {0.2, 0.0, 0.0, 0.9}}};  // bearing: nothing to do with slips
inline constexpr Row leaks{0.0, 0.02, 0.05, 0.1};

inline const std::string rules = R"(
finding slips asks "Slips?" otherwise in 2 of 100 jobs
finding smell asks "Burnt smell?" otherwise in 5 of 100 jobs
finding noise asks "Noise?" otherwise in 1 of 10 jobs
cause lining
    group hard_part
    found in 1 of 10 jobs
    shows slips in 8 of 10 jobs
    shows smell in 7 of 10 jobs
cause seal
    group hard_part
    found in 1 of 20 jobs
    shows slips in 6 of 10 jobs
cause bearing
    found in 1 of 5 jobs
    shows noise in 9 of 10 jobs
access unit_out
    says "Unit out"
    takes 100 minutes
detail oil : yes or no asks "Which oil?"
check save
    takes 5 minutes
    answers oil
check sniff
    takes 2 minutes
    answers smell
check listen
    takes 2 minutes
    answers noise
repair new_lining
    says "New lining"
    takes 60 minutes
    needs unit_out
    cures lining in 9 of 10 jobs
    only after save
repair new_seal
    says "New seal"
    takes 40 minutes
    needs unit_out
    cures seal
repair new_bearing
    takes 30 minutes
    cures bearing
repair drive_around
    takes 30 minutes
distrust cleared
    when happened wiped
    not judged group hard_part
    until drive_around
    because "the values were cleared"
event wiped
)";

inline const std::string card = "complaint: { findings: [slips] }\n";

using Known = std::optional<bool>;

/// What the cause itself adds to a count that says how many jobs show it, whatever the reason.
inline double adds(double count, double leak) { return std::max(0.0, (count - leak) / (1 - leak)); }

inline double seen(Known known, double clear) {
  return !known ? 1.0 : *known ? 1.0 - clear : clear;
}

/// Chance of the answers and of slips; with `cured` (how often each cause is ended) the chance of
/// that and that nothing left behind was among what made it slip.
inline double weight(Known smell, Known noise, const std::optional<std::array<double, 3>>& cured) {
  double sum = 0;
  for (int state = 0; state < 27; ++state) {
    double chance = 1;
    double no_smell = 1 - leaks.smell;
    double no_noise = 1 - leaks.noise;
    double left_quiet = 1 - leaks.slips;
    double cured_quiet = 1;
    for (std::size_t i = 0, rest = static_cast<std::size_t>(state); i < 3; ++i, rest /= 3) {
      const Row& row = rows[i];
      const double ended = cured ? (*cured)[i] : 0.0;
      const std::size_t part = rest % 3;  // absent, left behind, ended
      chance *= part == 0 ? 1 - row.found : row.found * (part == 1 ? 1 - ended : ended);
      if (part == 0) continue;
      no_smell *= 1 - adds(row.smell, leaks.smell);
      no_noise *= 1 - adds(row.noise, leaks.noise);
      (part == 1 ? left_quiet : cured_quiet) *= 1 - adds(row.slips, leaks.slips);
    }
    const double slips = cured ? left_quiet * (1 - cured_quiet) : 1 - left_quiet;
    sum += chance * seen(smell, no_smell) * seen(noise, no_noise) * slips;
  }
  return sum;
}

inline constexpr std::array<double, 3> only_lining{0.9, 0, 0};
inline constexpr std::array<double, 3> only_seal{0, 1, 0};
inline constexpr std::array<double, 3> lining_and_seal{0.9, 1, 0};

/// The cheapest way through the two repairs that touch the complaint, every row tried; weighed.
inline double cheapest(Known smell, Known noise) {
  const double all = weight(smell, noise, std::nullopt);
  const double lining = weight(smell, noise, only_lining);
  const double seal = weight(smell, noise, only_seal);
  const double both = weight(smell, noise, lining_and_seal);
  const double lining_work = 60 + 100 + 5;  // with the unit out and the values saved
  const double seal_work = 40 + 100;
  const auto stop_after = [&](double ended) { return (comeback + unsolved) * (all - ended); };
  return std::min({unsolved * all,                               //
                   lining_work * all + stop_after(lining),       //
                   seal_work * all + stop_after(seal),           //
                   (lining_work + 40) * all + stop_after(both),  //
                   // The unit comes out again in the second round; the values are saved already.
                   lining_work * all + (comeback + seal_work) * (all - lining) + stop_after(both),
                   seal_work * all + (comeback + lining_work) * (all - seal) + stop_after(both)});
}

inline double ends(Known smell, const std::array<double, 3>& cured) {
  return weight(smell, {}, cured) / weight(smell, {}, std::nullopt);
}

inline const CheckAdvice* find_check(const NextAdvice& advice, const std::string& id) {
  const auto at =
      std::ranges::find_if(advice.checks, [&](const auto& c) { return c.step.id == id; });
  return at != advice.checks.end() ? &*at : nullptr;
}

inline doctest::Approx near(double value) { return doctest::Approx(value).epsilon(1e-9); }

}  // namespace slipcase::test::plan
