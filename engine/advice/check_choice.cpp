#include "advice/check_choice.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "advice/outlook.h"
#include "advice/ways.h"
#include "support/sort_key.h"

namespace slipcase::advice {
namespace {

using network::Posterior;

constexpr double least_bits = 2e-3;
constexpr double likely_enough = 0.1;        // to be worked out
constexpr double least_share_of_best = 0.2;  // of what the most telling finding of the check tells
constexpr std::size_t most_findings = 3;     // weighed jointly
constexpr std::size_t most_answers = 12;     // of all of them together

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

}  // namespace

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
