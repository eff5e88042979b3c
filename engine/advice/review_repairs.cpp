#include "advice/review_repairs.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "advice/next_steps.h"
#include "advice/planning.h"
#include "advice/step_reports.h"
#include "support/near_names.h"
#include "support/sort_key.h"
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

/// A cause without which the repair would end the complaint in fewer jobs by less is not named.
constexpr double least_needed = 0.005;

/// What each part of the complaint adds is not looked at where there are more.
constexpr std::size_t most_parts = 8;

constexpr std::size_t most_evidence = 12;
constexpr double least_weight_told = 0.02;  // in log odds

double log_odds(double p) {
  constexpr double nothing = 1e-12;  // rounding can make a hair more or less of none or all
  const double inside = std::clamp(p, nothing, 1.0 - nothing);
  return std::log(inside) - std::log1p(-inside);
}

/// "element_pack" of "element_pack of K2"
std::string head_of(std::string_view name) {
  return std::string(name.substr(0, name.find(" of ")));
}

/// All members of the repair that is meant; a repair whose name is only alike.
UnknownRepair unknown_repair(const std::string& name, const std::vector<std::string>& known) {
  UnknownRepair unknown{name, {}};
  if (const auto near = suggest(name, known)) {
    unknown.nearest.emplace_back(*near);
    return unknown;
  }
  std::vector<std::string> heads;
  for (const std::string& other : known) heads.push_back(head_of(other));
  heads.erase(std::unique(heads.begin(), heads.end()), heads.end());
  const std::string head = head_of(name);
  const bool is_known = std::ranges::find(heads, head) != heads.end();
  for (const std::string& near : is_known ? std::vector{head} : near_names(head, heads).names) {
    for (const std::string& other : known)
      if (head_of(other) == near) unknown.nearest.push_back(other);
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
  /// `planning` with the intended repairs as its first.
  Reviewer(Planning& planning, NextAdvice best, const Posterior& now, std::size_t repairs)
      : planning_(planning),
        now_(now),
        count_(repairs),
        intended_((RepairSet{1} << repairs) - 1),
        ahead_(planning.ahead()),
        prospect_(ahead_.oracle->now({})) {
    review_.best = std::move(best);
  }

  Review run(const JobTitle& title) {
    review_.job = title.job;
    review_.unit = title.unit;
    going_ahead();
    review_.cost_best = std::min(review_.best.cost_with_check, review_.cost_ahead);
    must_be_true();
    look_at_parts();
    weigh_evidence();
    review_.verdict = verdict();
    return std::move(review_);
  }

 private:
  void going_ahead() {
    const auto plan = decision::best_repairs_after(ahead_.problem, prospect_, 0, intended_);
    review_.cost_ahead = planning_.cost_of_first_checks() + share_of(plan.weighed_cost, prospect_);
    const std::vector<RepairRound> rounds = planning_.report({intended_}, prospect_, 0);
    review_.repairs = rounds.front().repairs;
    review_.before = rounds.front().before;
    review_.after = rounds.front().after;
    review_.cost_of_round = rounds.front().cost;
    review_.ends = rounds.front().ends;
    for (std::size_t r = 0; r < count_; ++r) {
      const RepairSet others = intended_ & ~(RepairSet{1} << r);
      review_.adds.push_back(review_.ends - share_of(prospect_.ended[others], prospect_));
    }
  }

  /// The cures of the intended repairs, with what follows them.
  [[nodiscard]] std::vector<network::Cure> cures() const {
    std::vector<network::Cure> all;
    for (std::size_t r = 0; r < count_; ++r) {
      const auto& of_repair = planning_.repairs()[r].cures;
      all.insert(all.end(), of_repair.begin(), of_repair.end());
    }
    return all;
  }

  /// Weight of the case that these cures, with those tried before, end all of these findings.
  [[nodiscard]] double weight_of_ending(std::vector<network::Cure> cures,
                                        const std::vector<network::FindingId>& findings) const {
    const auto& tried = planning_.tried();
    cures.insert(cures.end(), tried.begin(), tried.end());
    JobOracle oracle(planning_.job(), findings, {std::move(cures)}, {}, {});
    return oracle.now({}).ended[1];
  }
  /// The same as a chance, given that what was tried before did not end the complaint.
  [[nodiscard]] double chance_of_ending(std::vector<network::Cure> cures,
                                        const std::vector<network::FindingId>& findings) const {
    const double gone = 1.0 - prospect_.chance;
    return std::clamp(share_of(weight_of_ending(std::move(cures), findings) - gone, prospect_), 0.0,
                      1.0);
  }

  /// Of what the repairs themselves cure, that without which they would end it less often.
  void must_be_true() {
    JobModel& job = planning_.job();
    std::vector<bool> cured(now_.hidden.size(), false);
    for (std::size_t r = 0; r < count_; ++r)
      for (const network::Cure& cure : planning_.shop().own_cures(planning_.repairs()[r].repair))
        cured[cure.cause.at()] = true;
    for (std::uint32_t c = 0; c < job.ground().causes.size(); ++c) {
      const GroundCause cause{c};
      const network::HiddenId hidden = job.hidden(cause);
      if (!cured[hidden.at()] || !job.states().possible.at(c)) continue;
      if (job.chance(now_, cause).value() < least_needed) continue;
      std::vector<network::Cure> others = cures();
      std::erase_if(others, [&](const network::Cure& cure) { return cure.cause == hidden; });
      const double needed =
          review_.ends - chance_of_ending(std::move(others), planning_.complaint().ids());
      if (needed < least_needed) continue;
      review_.must_be_true.push_back({job.ground().name_of(cause), job.ground().says(cause),
                                      job.chance(now_, cause), needed, job.states().judged.at(c),
                                      not_judged_because(job, cause)});
    }
    std::ranges::stable_sort(review_.must_be_true, std::ranges::greater{},
                             [](const CuredCause& c) { return sort_key(c.chance.value()); });
  }

  void look_at_parts() {
    const auto& complaint = planning_.complaint().findings;
    if (complaint.size() < 2 || complaint.size() > most_parts) return;
    for (const GroundFinding finding : complaint) {
      std::vector<network::FindingId> rest = planning_.complaint().ids();
      const network::FindingId id{finding.index};
      std::erase(rest, id);
      review_.parts.push_back(
          {planning_.job().ground().name_of(finding), planning_.job().ground().says(finding),
           1.0 - chance_of_ending(cures(), {id}), chance_of_ending(cures(), rest)});
    }
    std::ranges::stable_sort(review_.parts, std::ranges::greater{},
                             [](const ReviewPart& p) { return sort_key(p.remains); });
  }

  void weigh_evidence() {
    JobModel& job = planning_.job();
    std::vector<GroundFinding> findings;
    for (const network::Observation& seen : job.observations()) {
      const GroundFinding finding{seen.finding.index};
      const auto& complaint = planning_.complaint().findings;
      if (std::ranges::find(complaint, finding) == complaint.end()) findings.push_back(finding);
    }
    const std::vector<double> without = ahead_.oracle->ends_without(intended_, findings);
    const std::vector<double> along = ahead_.oracle->ends_along(intended_, findings);
    review_.ends_by_complaint = along.front();
    for (std::size_t i = 0; i < findings.size(); ++i) {
      const double factor = log_odds(along[i + 1]) - log_odds(along[i]);
      if (!(std::abs(factor) > least_weight_told)) continue;
      const FindingReport reported = report(job, findings[i]);
      review_.evidence.push_back(
          {reported.id, reported.says, reported.state, reported.grade, without[i], factor});
    }
    std::ranges::stable_sort(review_.evidence, std::ranges::greater{},
                             [](const auto& e) { return sort_key(std::abs(e.log_factor)); });
    if (review_.evidence.size() > most_evidence) review_.evidence.resize(most_evidence);
  }

  [[nodiscard]] Verdict verdict() const {
    if (!review_.best.first.empty())
      return is_what_comes_first() ? Verdict::go_ahead : Verdict::not_yet;
    if (cures_only_what_is_not_judged()) return Verdict::not_yet;
    if (review_.ends < hardly_ever) return Verdict::no_use;
    // Whoever asks what is next is told this check.
    if (any_check_pays()) return Verdict::check_first;
    if (review_.best.plan.empty()) return Verdict::no_use;
    const bool as_cheap = review_.cost_ahead <= review_.cost_best * (1 + as_good);
    return as_cheap || starts_as_intended() ? Verdict::go_ahead : Verdict::other_repair;
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
    return !review_.best.checks.empty() && review_.best.checks.front().pays;
  }

  [[nodiscard]] bool starts_as_intended() const {
    const auto& first = review_.best.plan.front().repairs;
    return std::ranges::equal(first, review_.repairs, {}, &StepReport::id, &StepReport::id);
  }

  Planning& planning_;
  const Posterior& now_;
  std::size_t count_;
  RepairSet intended_;
  Planning::Ahead ahead_;
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
  Planning best(job, facts, costs);
  if (best.complaint().findings.empty()) return NoComplaint{};
  if (const auto repair = repair_that_ended(facts))
    return describe_end(job, best.complaint(), title, *repair);
  Answer<Posterior> now = job.solve(job.evidence());
  if (auto* failure = std::get_if<Failure>(&now))
    return std::visit([](auto& why) -> ReviewResult { return std::move(why); }, *failure);
  const auto& posterior = std::get<Posterior>(now);
  best.choose(posterior);
  NextAdvice advice = best.advise(title, options.checks);
  if (best.oracle().too_wide()) return *best.oracle().too_wide();
  Planning planning(job, facts, costs);
  planning.intend(intended, best.repairs());
  Review result = Reviewer(planning, std::move(advice), posterior, intended.size()).run(title);
  if (planning.oracle().too_wide()) return *planning.oracle().too_wide();
  return result;
}

}  // namespace slipcase::advice
