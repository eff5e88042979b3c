#include "advice/candidates.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <set>

#include "advice/outlook.h"
#include "advice/ways.h"
#include "support/sort_key.h"

namespace slipcase::advice {
namespace {

using network::Posterior;

/// A repair is looked at when it cures something at least this likely.
constexpr double least_chance = 0.003;
constexpr double least_chance_to_end = 0.002;
constexpr std::size_t most_tried_alone = 12;
constexpr std::size_t most_together = 8;

constexpr double least_bits = 2e-3;
constexpr double likely_enough = 0.1;        // to be worked out
constexpr double least_share_of_best = 0.2;  // of what the most telling finding of the check tells
constexpr std::size_t most_findings = 3;     // weighed jointly
constexpr std::size_t most_answers = 12;     // of all of them together

bool cures_something_judged(const JobModel& job, const std::vector<bool>& judged,
                            const RepairStep& repair) {
  return std::ranges::any_of(repair.cures, [&](const network::Cure& cure) {
    for (std::uint32_t c = 0; c < job.ground().causes.size(); ++c)
      if (job.hidden(GroundCause{c}) == cure.cause) return bool{judged.at(c)};
    return false;
  });
}

/// By what it cures itself: what always follows it can be had without it.
double likely_to_be_needed(const Posterior& now, const Workshop& shop, const RepairStep& repair) {
  double sum = 0;
  for (const network::Cure& cure : shop.own_cures(repair.repair))
    sum += now.hidden.at(cure.cause.at()).value() * cure.succeeds.value();
  return sum;
}

double total_cost(const Workshop& shop, const decision::Work& work) {
  return decision::cost_of(shop.shared(), work, 0);
}

std::vector<network::HiddenId> cured_by(const std::vector<RepairStep>& repairs) {
  std::vector<network::HiddenId> causes;
  for (const RepairStep& repair : repairs)
    for (const network::Cure& cure : repair.cures) causes.push_back(cure.cause);
  std::ranges::sort(causes);
  causes.erase(std::unique(causes.begin(), causes.end()), causes.end());
  return causes;
}

/// Questions that no check answers: one for all members of a finding.
std::vector<OpenCheck> plain_questions(const JobModel& job, const Workshop& shop,
                                       std::vector<bool> answered) {
  std::map<std::uint32_t, OpenCheck> by_declaration;
  for (std::uint32_t f = 0; f < job.ground().findings.size(); ++f) {
    const GroundFinding finding{f};
    if (answered[f] || shop.was_looked_at(finding)) continue;
    if (!is_open(job, finding) || job.ground().asks(finding).empty()) continue;
    OpenCheck& question = by_declaration[job.ground().findings.origins[f].declaration];
    question.work.cost = shop.cost(minutes_to_ask, 0);
    question.weighed.findings.push_back(finding);
  }
  std::vector<OpenCheck> questions;
  for (auto& [declaration, question] : by_declaration) questions.push_back(std::move(question));
  return questions;
}

std::vector<OpenCheck> all_checks(const JobModel& job, const Workshop& shop) {
  std::vector<bool> answered(job.ground().findings.size(), false);
  std::vector<OpenCheck> checks;
  for (const CheckStep& step : shop.checks()) {
    OpenCheck check{
        .check = step.check, .work = step.work, .weighed = {}, .still_missing = step.still_missing};
    for (const GroundFinding finding : step.answers) {
      answered[finding.at()] = true;
      if (is_open(job, finding)) check.weighed.findings.push_back(finding);
    }
    checks.push_back(std::move(check));
  }
  std::vector<OpenCheck> questions = plain_questions(job, shop, std::move(answered));
  std::ranges::move(questions, std::back_inserter(checks));
  return checks;
}

class Weigher {
 public:
  Weigher(JobModel& job, const Posterior& now, std::vector<network::HiddenId> causes)
      : job_(job), now_(now), causes_(std::move(causes)) {}

  void look_at(const std::vector<OpenCheck>& checks) {
    std::vector<GroundFinding> findings;
    std::set<std::uint32_t> seen;
    for (const OpenCheck& check : checks)
      for (const GroundFinding finding : check.weighed.findings)
        if (most_bits(finding) >= least_bits / 2 && seen.insert(finding.index).second)
          findings.push_back(finding);
    const auto ahead = outlooks(job_, now_, findings);
    for (std::size_t i = 0; i < findings.size(); ++i)
      if (ahead[i]) bits_[findings[i].index] = information(causes_, now_, *ahead[i]);
  }

  [[nodiscard]] double bits(GroundFinding finding) const {
    const auto found = bits_.find(finding.index);
    return found != bits_.end() ? found->second : 0.0;
  }

  /// Keeps the findings that tell most.
  void choose(OpenCheck& check) const {
    auto& findings = check.weighed.findings;
    std::ranges::stable_sort(findings, std::ranges::greater{},
                             [this](GroundFinding f) { return bits(f); });
    std::vector<GroundFinding> chosen;
    std::size_t answers = 1;
    for (const GroundFinding finding : findings) {
      if (bits(finding) < std::max(least_bits, least_share_of_best * bits(findings.front()))) break;
      answers *= job_.network().findings[finding.at()].leak.size() + 1;
      if (chosen.size() == most_findings || answers > most_answers) break;
      chosen.push_back(finding);
      check.information += bits(finding);
    }
    check.more_findings = findings.size() - chosen.size();
    findings = std::move(chosen);
  }

 private:
  /// More than yes or no can tell about anything that could make it show: whether one of those did,
  /// seen through its showing without any. Their chances add up to at most `fires`. Half the least
  /// is asked for: causes that come together count twice in `bits`.
  [[nodiscard]] double most_bits(GroundFinding finding) const {
    const network::Finding& node = job_.network().findings.at(finding.at());
    double fires = 0;
    for (const network::FindingLink& link : node.parents)
      fires += now_.hidden.at(link.parent.at()).value() * link.fire.front().value();
    if (fires >= likely_enough) return 1.0;
    const Probability leak = node.leak.front();
    const auto yes = Probability::from(leak.value() + fires * leak.complement());
    return entropy_bits(yes.value()) - (1.0 - fires) * entropy_bits(leak);
  }

  JobModel& job_;
  const Posterior& now_;
  std::vector<network::HiddenId> causes_;
  std::map<std::uint32_t, double> bits_;
};

/// Chooses the repairs to plan with. Some end the complaint by themselves; of others only several
/// together do (a wet plug, and the fluid that ran out through it), so that each alone promises
/// nothing. Those are found from the other end: all together, and away with the one without which
/// the rest costs least. Where places are left: all together, and away with what is missed least.
class RepairChooser {
 public:
  RepairChooser(JobModel& job, const Workshop& shop, const Complaint& complaint,
                const std::vector<network::Cure>& tried, const std::vector<bool>& judged,
                const Posterior& now)
      : job_(job),
        shop_(shop),
        complaint_(complaint.ids()),
        tried_(tried),
        fallback_(shop.shared().unsolved) {
    for (const RepairStep& repair : shop.repairs()) {
      const double needed = likely_to_be_needed(now, shop, repair);
      if (needed >= least_chance && cures_something_judged(job, judged, repair))
        looked_at_.push_back({needed, &repair});
    }
    std::ranges::stable_sort(looked_at_, std::ranges::greater{}, by_score);
    if (looked_at_.size() > most_tried_alone) looked_at_.resize(most_tried_alone);
  }

  std::vector<RepairStep> run(std::size_t how_many) {
    Repairs chosen = best_alone(how_many / 2);
    add(cheapest_together(how_many - chosen.size()), chosen);
    add_best_together(chosen, how_many);
    std::vector<RepairStep> result;
    for (const RepairStep* repair : chosen) result.push_back(*repair);
    return result;
  }

 private:
  using Repairs = std::vector<const RepairStep*>;

  struct Scored {
    double score = 0;
    const RepairStep* repair = nullptr;
  };
  static double by_score(const Scored& one) { return sort_key(one.score); }

  double ends(const Repairs& repairs) {
    std::vector<network::Cure> cures;
    for (const RepairStep* repair : repairs)
      cures.insert(cures.end(), repair->cures.begin(), repair->cures.end());
    JobOracle together(job_, complaint_, {std::move(cures)}, tried_, {});
    const decision::Prospect prospect = together.now({});
    return prospect.chance > 0 ? prospect.ended[1] / prospect.chance : 0.0;
  }

  [[nodiscard]] double cost(const RepairStep* repair) const {
    return std::max(1.0, total_cost(shop_, repair->work));
  }

  Repairs best_alone(std::size_t how_many) {
    std::vector<Scored> scored;
    for (const Scored& one : looked_at_) {
      const double chance = ends({one.repair});
      const double left_over = (1.0 - chance) * (shop_.shared().comeback + shop_.shared().unsolved);
      fallback_ = std::min(fallback_, cost(one.repair) + left_over);
      if (chance >= least_chance_to_end) scored.push_back({chance / cost(one.repair), one.repair});
    }
    std::ranges::stable_sort(scored, std::ranges::greater{}, by_score);
    Repairs best;
    for (const Scored& one : scored)
      if (best.size() < how_many) best.push_back(one.repair);
    return best;
  }

  static void add(const Repairs& more, Repairs& list) {
    for (const RepairStep* repair : more)
      if (std::ranges::find(list, repair) == list.end()) list.push_back(repair);
  }

  static Repairs without(Repairs repairs, std::size_t place) {
    repairs.erase(repairs.begin() + static_cast<std::ptrdiff_t>(place));
    return repairs;
  }

  [[nodiscard]] Repairs most_needed() const {
    Repairs all;
    for (const Scored& one : looked_at_)
      if (all.size() < most_together) all.push_back(one.repair);
    return all;
  }

  /// Of these together, and of the best one alone where they do not end it.
  double expected_cost(const Repairs& repairs) {
    decision::Work work;
    for (const RepairStep* repair : repairs) {
      work.cost += repair->work.cost;
      work.needs |= repair->work.needs;
      work.follows |= repair->work.follows;
    }
    return total_cost(shop_, work) + (1.0 - ends(repairs)) * (shop_.shared().comeback + fallback_);
  }

  /// Of the sets of two and more met on the way down, at most so large, the one that costs least.
  Repairs cheapest_together(std::size_t how_many) {
    Repairs cheapest;
    double least = std::numeric_limits<double>::infinity();
    for (Repairs all = most_needed(); all.size() > 2;) {
      std::size_t leave = 0;
      double least_here = std::numeric_limits<double>::infinity();
      for (std::size_t i = 0; i < all.size(); ++i) {
        const double rest = expected_cost(without(all, i));
        if (rest >= least_here) continue;
        least_here = rest;
        leave = i;
      }
      all = without(std::move(all), leave);
      if (all.size() > how_many || least_here >= least) continue;
      least = least_here;
      cheapest = all;
    }
    return cheapest;
  }

  void add_best_together(Repairs& chosen, std::size_t how_many) {
    if (chosen.size() >= how_many) return;
    Repairs all = most_needed();
    add(chosen, all);
    while (all.size() > how_many) drop_least_missed(all, chosen);
    if (ends(all) >= least_chance_to_end) add(all, chosen);
  }

  void drop_least_missed(Repairs& all, const Repairs& kept) {
    std::size_t least = all.size();
    double most_left = -1;
    for (std::size_t i = 0; i < all.size(); ++i) {
      if (std::ranges::find(kept, all[i]) != kept.end()) continue;
      // Where nothing is missed the dearer goes.
      const double left = ends(without(all, i)) + 1e-9 * cost(all[i]) / (1 + cost(all[i]));
      if (left <= most_left) continue;
      most_left = left;
      least = i;
    }
    all = without(std::move(all), least);
  }

  JobModel& job_;
  const Workshop& shop_;
  std::vector<network::FindingId> complaint_;
  const std::vector<network::Cure>& tried_;
  std::vector<Scored> looked_at_;
  double fallback_;  // what it costs by one repair alone, and to find the fault where that fails
};

}  // namespace

std::vector<RepairStep> promising_repairs(JobModel& job, const Workshop& shop,
                                          const Complaint& complaint,
                                          const std::vector<network::Cure>& tried,
                                          const std::vector<bool>& judged, const Posterior& now,
                                          std::size_t how_many) {
  return RepairChooser(job, shop, complaint, tried, judged, now).run(how_many);
}

std::vector<OpenCheck> promising_checks(JobModel& job, const Workshop& shop,
                                        const std::vector<RepairStep>& repairs,
                                        const std::vector<GroundCheck>& coming,
                                        const Posterior& now, std::size_t how_many) {
  std::vector<OpenCheck> checks = all_checks(job, shop);
  std::erase_if(checks, [&](const OpenCheck& c) {
    return c.check && std::ranges::find(coming, *c.check) != coming.end();
  });
  Weigher weigher(job, now, cured_by(repairs));
  weigher.look_at(checks);
  for (OpenCheck& check : checks) weigher.choose(check);
  std::erase_if(checks, [](const OpenCheck& c) { return c.weighed.findings.empty(); });
  const auto for_its_cost = [&](const OpenCheck& check) {
    return sort_key(check.information / std::max(1.0, total_cost(shop, check.work)));
  };
  std::ranges::stable_sort(checks, std::ranges::greater{}, for_its_cost);
  if (checks.size() > how_many) checks.resize(how_many);
  return checks;
}

}  // namespace slipcase::advice
