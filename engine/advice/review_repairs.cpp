#include "advice/review_repairs.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "advice/planning.h"
#include "advice/step_reports.h"
#include "support/suggest.h"

namespace slipcase::advice {

using decision::Prospect;
using decision::RepairSet;
using network::Posterior;

namespace {

/// Below this a repair is said to be of no use.
constexpr double hardly_ever = 0.05;

/// A plan that is cheaper by less than this share is as good.
constexpr double as_good = 0.05;

constexpr std::size_t most_evidence = 12;
constexpr double least_weight_told = 0.02;  // in log odds

double log_odds(double p) { return std::log(p) - std::log1p(-p); }

/// "element_pack" of "element_pack of K2"
std::string head_of(std::string_view name) {
  return std::string(name.substr(0, name.find(" of ")));
}

/// The nearest name, then what has the same first word or the name in it.
UnknownRepair unknown_repair(const std::string& name, const std::vector<std::string>& known) {
  UnknownRepair unknown{name, {}};
  std::vector<std::string> heads;
  for (const std::string& other : known) heads.push_back(head_of(other));
  heads.erase(std::unique(heads.begin(), heads.end()), heads.end());
  const auto near = suggest(name, known);
  const auto head = suggest(head_of(name), heads);
  if (near) unknown.nearest.emplace_back(*near);
  for (const std::string& other : known) {
    const bool alike =
        other.find(name) != std::string::npos || (!near && head && head_of(other) == *head);
    if (alike && (!near || other != *near)) unknown.nearest.push_back(other);
  }
  return unknown;
}

std::variant<std::vector<GroundRepair>, UnknownRepair> find_repairs(
    const grounding::GroundRules& ground, const std::vector<std::string>& names) {
  std::vector<GroundRepair> found;
  for (const std::string& name : names) {
    std::vector<std::string> known;
    std::optional<GroundRepair> match;
    for (std::uint32_t r = 0; r < ground.repairs.size() && !match; ++r) {
      const GroundRepair repair{r};
      known.push_back(ground.name_of(repair));
      if (known.back() == name || ground.says(repair) == name) match = repair;
    }
    if (!match) return unknown_repair(name, known);
    if (std::ranges::find(found, *match) == found.end()) found.push_back(*match);
  }
  return found;
}

std::string not_judged_because(const JobModel& job, GroundCause cause) {
  const auto distrust = job.states().not_judged_by.at(cause.at());
  if (!distrust) return {};
  const auto& ground = job.ground().distrusts.at(*distrust);
  return job.ground().rules->distrusts.at(ground.declaration).because;
}

class Reviewer {
 public:
  Reviewer(Planning& planning, const Posterior& now, std::size_t repairs)
      : planning_(planning),
        now_(now),
        intended_((RepairSet{1} << repairs) - 1),
        prospect_(planning.oracle().now({})) {}

  Review run(const JobTitle& title, std::size_t most_checks) {
    review_.job = title.job;
    review_.unit = title.unit;
    going_ahead();
    review_.best = planning_.advise(title, most_checks);
    review_.cost_best = review_.best.cost_with_check;
    must_be_true();
    weigh_evidence();
    review_.verdict = verdict();
    return std::move(review_);
  }

 private:
  void going_ahead() {
    const auto plan = decision::best_repairs_after(planning_.problem(), prospect_, 0, intended_);
    review_.cost_ahead = share_of(plan.weighed_cost, prospect_);
    const std::vector<RepairRound> rounds = planning_.report({intended_}, prospect_, 0);
    review_.repairs = rounds.front().repairs;
    review_.before = rounds.front().before;
    review_.cost_of_round = rounds.front().cost;
    review_.ends = rounds.front().ends;
  }

  void must_be_true() {
    JobModel& job = planning_.job();
    std::vector<bool> cured(now_.hidden.size(), false);
    for (std::size_t r = 0; (intended_ >> r & 1U) != 0; ++r)
      for (const network::Cure& cure : planning_.repairs()[r].cures) cured[cure.cause.at()] = true;
    for (std::uint32_t c = 0; c < job.ground().causes.size(); ++c) {
      const GroundCause cause{c};
      if (!cured[job.hidden(cause).at()] || !job.states().possible.at(c)) continue;
      review_.must_be_true.push_back({job.ground().name_of(cause), job.ground().says(cause),
                                      job.chance(now_, cause), job.states().judged.at(c),
                                      not_judged_because(job, cause)});
    }
    std::ranges::stable_sort(review_.must_be_true, std::ranges::greater{},
                             [](const CuredCause& c) { return c.chance.value(); });
  }

  void weigh_evidence() {
    JobModel& job = planning_.job();
    std::vector<GroundFinding> findings;
    for (const network::Observation& seen : job.observations()) {
      const GroundFinding finding{seen.finding.index};
      const auto& complaint = planning_.complaint().findings;
      if (std::ranges::find(complaint, finding) == complaint.end()) findings.push_back(finding);
    }
    const std::vector<double> without = planning_.oracle().ends_without(intended_, findings);
    for (std::size_t i = 0; i < findings.size(); ++i) {
      if (!(std::abs(weight(without[i])) > least_weight_told)) continue;
      const FindingReport reported = report(job, findings[i]);
      review_.evidence.push_back(
          {reported.id, reported.says, reported.state, reported.grade, without[i]});
    }
    std::ranges::stable_sort(review_.evidence, std::ranges::greater{},
                             [this](const auto& e) { return std::abs(weight(e.ends_without)); });
    if (review_.evidence.size() > most_evidence) review_.evidence.resize(most_evidence);
  }

  /// What a finding adds to the log odds that the repair ends the complaint.
  [[nodiscard]] double weight(double without) const {
    return log_odds(review_.ends) - log_odds(without);
  }

  [[nodiscard]] Verdict verdict() const {
    if (!review_.best.first.empty())
      return is_what_comes_first() ? Verdict::go_ahead : Verdict::not_yet;
    if (cures_only_what_is_not_judged()) return Verdict::not_yet;
    if (review_.ends < hardly_ever) return Verdict::no_use;
    if (review_.best.plan.empty() && !any_check_pays()) return Verdict::no_use;
    if (review_.cost_ahead <= review_.cost_best * (1 + as_good)) return Verdict::go_ahead;
    const bool check_pays =
        review_.best.cost_with_check < review_.best.cost_of_repairs * (1 - as_good);
    const bool no_other = review_.best.plan.empty() || starts_as_intended();
    return check_pays || no_other ? Verdict::check_first : Verdict::other_repair;
  }

  /// All that is intended ends a distrust, and nothing else must come first but what comes before
  /// it anyway.
  [[nodiscard]] bool is_what_comes_first() const {
    const auto& first = review_.best.first;
    const auto has = [](const std::vector<StepReport>& steps, const std::string& id) {
      return std::ranges::find(steps, id, &StepReport::id) != steps.end();
    };
    return std::ranges::all_of(review_.repairs,
                               [&](const StepReport& repair) {
                                 return std::ranges::any_of(first, [&](const FirstThing& thing) {
                                   return thing.step.id == repair.id;
                                 });
                               }) &&
           std::ranges::all_of(first, [&](const FirstThing& thing) {
             return has(review_.repairs, thing.step.id) || has(review_.before, thing.step.id);
           });
  }

  [[nodiscard]] bool cures_only_what_is_not_judged() const {
    const auto judged = [](const CuredCause& c) { return c.judged; };
    return !review_.must_be_true.empty() && std::ranges::none_of(review_.must_be_true, judged);
  }

  [[nodiscard]] bool any_check_pays() const {
    return !review_.best.checks.empty() && review_.best.checks.front().net() > 0;
  }

  [[nodiscard]] bool starts_as_intended() const {
    const auto& first = review_.best.plan.front().repairs;
    return std::ranges::equal(first, review_.repairs, {}, &StepReport::id, &StepReport::id);
  }

  Planning& planning_;
  const Posterior& now_;
  RepairSet intended_;
  Prospect prospect_;
  Review review_;
};

}  // namespace

ReviewResult review_repairs(JobModel& job, const evaluation::JobFacts& facts, const JobTitle& title,
                            const ShopCosts& costs, const std::vector<std::string>& repairs,
                            const NextOptions& options) {
  if (repairs.empty() || repairs.size() > most_reviewed)
    throw std::invalid_argument("a review takes one repair and at most most_reviewed");
  auto found = find_repairs(job.ground(), repairs);
  if (auto* unknown = std::get_if<UnknownRepair>(&found)) return std::move(*unknown);
  const auto& intended = std::get<std::vector<GroundRepair>>(found);
  Planning planning(job, facts, costs);
  if (planning.complaint().findings.empty()) return NoComplaint{};
  Answer<Posterior> now = job.solve(job.evidence());
  if (auto* failure = std::get_if<Failure>(&now))
    return std::visit([](auto& why) -> ReviewResult { return std::move(why); }, *failure);
  const auto& posterior = std::get<Posterior>(now);
  planning.choose(posterior, intended);
  Review result = Reviewer(planning, posterior, intended.size()).run(title, options.checks);
  if (planning.oracle().too_wide()) return *planning.oracle().too_wide();
  return result;
}

}  // namespace slipcase::advice
