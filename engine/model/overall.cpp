#include "model/overall.h"

#include <cmath>

namespace slipcase::model {

namespace {

struct GradeProblem {
  std::size_t grade;
  const std::vector<CountedParent>& parents;
  Expectation& expectation;
  const std::vector<Probability>&
      stronger;  // what each parent fires of the next stronger grade; may be empty
};

std::vector<HiddenLink> links_at(const GradeProblem& problem, Probability rate) {
  std::vector<HiddenLink> links;
  for (std::size_t i = 0; i < problem.parents.size(); ++i) {
    const auto& counts = problem.parents[i].line->at_least;
    const bool counted = problem.grade < counts.size() && counts[problem.grade].has_value();
    Probability fire =
        counted ? link_strength(*counts[problem.grade], {rate, {}}).fire : Probability::never();
    const bool stronger_wins =
        !problem.stronger.empty() && problem.stronger[i].value() > fire.value();
    if (stronger_wins) fire = problem.stronger[i];
    links.push_back({problem.parents[i].parent, fire});
  }
  return links;
}

double absent_share(const GradeProblem& problem, Probability rate) {
  return rate.complement() * problem.expectation.none_fires(links_at(problem, rate));
}

// The share falls smoothly and almost in a straight line as the rate rises, so a secant step
// between the ends of its range converges in a few steps; the bracket keeps it safe. Each step can
// cost a sweep.
Probability solve_rate(const GradeProblem& problem, Probability overall, Probability least) {
  const auto excess = [&](double rate) {
    return absent_share(problem, *Probability::from(rate)) - overall.complement();
  };
  double low = least.value();
  double high = overall.value();
  double at_low = excess(low);
  // Without a cause the finding cannot be more frequent than with all of them.
  if (at_low <= 0.0) return least;
  double at_high = excess(high);
  if (at_high >= 0.0) return overall;
  constexpr double close = 4e-16;
  constexpr int most_steps = 100;
  bool low_moved = false;
  bool high_moved = false;
  for (int step = 0; step < most_steps; ++step) {
    const double rate = low + (high - low) * at_low / (at_low - at_high);
    const double at_rate = excess(rate);
    if (std::fabs(at_rate) <= close || rate <= low || rate >= high) return *Probability::from(rate);
    // Illinois rule: an end that stays twice in a row counts half, so that both ends close in.
    if (at_rate > 0.0) {
      low = rate;
      at_low = at_rate;
      if (low_moved) at_high /= 2.0;
    } else {
      high = rate;
      at_high = at_rate;
      if (high_moved) at_low /= 2.0;
    }
    low_moved = at_rate > 0.0;
    high_moved = !low_moved;
  }
  return *Probability::from((low + high) / 2.0);
}

}  // namespace

bool SolvedRates::is_missed(const rulebase::GradedLine& overall, std::size_t grade) const {
  if (grade >= overall.at_least.size() || !overall.at_least[grade]) return false;
  const double half_a_count = 0.5 / static_cast<double>(overall.at_least[grade]->total());
  return std::fabs(reached[grade] - wanted[grade]) > half_a_count;
}

SolvedRates solve_overall(const rulebase::GradedLine& overall, std::size_t grades,
                          std::size_t members, const std::vector<CountedParent>& parents,
                          Expectation& expectation) {
  const std::vector<BaseRate> written = otherwise_rates(overall, grades, members);
  SolvedRates result;
  result.base.resize(grades);
  result.causes_exceed.assign(grades, false);
  result.reached.resize(grades);
  result.wanted.resize(grades);
  std::vector<Probability> stronger;
  for (std::size_t g = grades; g-- > 0;) {
    const auto count = g < overall.at_least.size() ? overall.at_least[g] : std::nullopt;
    const double total = static_cast<double>(count ? count->total() : 1000U);
    const Probability least = *Probability::from_weights(0.5, total - 0.5);
    const Probability target = written[g].rate;
    const GradeProblem problem{g, parents, expectation, stronger};
    Probability rate = target.value() > least.value() ? solve_rate(problem, target, least) : least;
    const double room = 0.5 / total;
    result.causes_exceed[g] =
        rate.value() <= least.value() &&
        1.0 - absent_share(problem, Probability::never()) > target.value() + room;
    const bool out_of_order = g + 1 < grades && rate.value() < result.base[g + 1].rate.value();
    if (out_of_order) rate = result.base[g + 1].rate;
    const bool is_solved = !out_of_order && rate.value() > least.value();
    result.wanted[g] = target.value();
    result.reached[g] = is_solved ? target.value() : 1.0 - absent_share(problem, rate);
    result.base[g] = {rate, {}};
    std::vector<Probability> fires;
    for (const HiddenLink& link : links_at(problem, rate)) fires.push_back(link.fire);
    stronger = std::move(fires);
  }
  return result;
}

}  // namespace slipcase::model
