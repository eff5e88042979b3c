#include "advice/weigh.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace slipcase::advice {

namespace {

using network::Finding;
using network::Observation;
using network::Posterior;

/// The posterior given that the cause is there, and given that it is not.
struct Given {
  Posterior present;
  Posterior absent;
};

std::optional<Given> posteriors_given(JobModel& job, network::HiddenId cause) {
  std::vector<network::Evidence> evidence(2, job.evidence());
  evidence[0].held.push_back({cause, true});
  evidence[1].held.push_back({cause, false});
  std::vector<network::Outcome> outcomes = job.solver().solve_batch(evidence);
  auto* present = std::get_if<Posterior>(&outcomes[0]);
  auto* absent = std::get_if<Posterior>(&outcomes[1]);
  if (present == nullptr || absent == nullptr) return std::nullopt;
  return Given{std::move(*present), std::move(*absent)};
}

/// P(below the grade) of a finding for one setting of its only parent.
double below(const Finding& finding, std::uint32_t grade, bool parent_present) {
  if (grade == 0) return 0.0;
  if (grade > finding.leak.size()) return 1.0;
  const double none = finding.leak[grade - 1].complement();
  return parent_present ? none * finding.parents.front().fire[grade - 1].complement() : none;
}

/// E[1 / weight] for a finding with one parent.
double inverse_weight_single(const Finding& finding, const Observation& seen, Probability parent) {
  const auto weight = [&](bool present) {
    return below(finding, seen.at_most + 1, present) - below(finding, seen.at_least, present);
  };
  return parent.value() / weight(true) + parent.complement() / weight(false);
}

/// E[1 / weight] for an absent finding, its parents taken as independent.
double inverse_weight_estimate(const Finding& finding, const Observation& seen,
                               const Posterior& posterior) {
  double product = 1.0;
  for (const network::FindingLink& link : finding.parents) {
    const Probability parent = posterior.hidden.at(link.parent.at());
    product *= parent.complement() + parent.value() / link.fire.at(seen.at_most).complement();
  }
  return product;
}

/// The network in which the observation is certain whatever the causes.
network::Network without_weight(network::Network network, const Observation& seen) {
  Finding& finding = network.findings.at(seen.finding.at());
  for (std::size_t g = 0; g < finding.leak.size(); ++g) {
    finding.leak[g] = g < seen.at_least ? Probability::certain() : Probability::never();
    for (network::FindingLink& link : finding.parents) link.fire[g] = Probability::never();
  }
  return network;
}

class Weigher {
 public:
  Weigher(JobModel& job, const Posterior& now, GroundCause cause, Given given)
      : job_(job), now_(now), cause_(cause), given_(std::move(given)) {}

  std::vector<WeighedFinding> weigh(std::size_t how_many) {
    for (const Observation& seen : job_.observations()) sort_in(seen);
    add_strongest_estimates(how_many);
    solve();
    std::stable_sort(list_.begin(), list_.end(),
                     [](const WeighedFinding& a, const WeighedFinding& b) {
                       return std::fabs(a.log_weight) > std::fabs(b.log_weight);
                     });
    if (list_.size() > how_many) list_.resize(how_many);
    return std::move(list_);
  }

 private:
  struct Estimate {
    Observation seen;
    double log_weight = 0.0;
  };

  void sort_in(const Observation& seen) {
    const Finding& finding = job_.rules().numbers.findings.at(seen.finding.at());
    if (finding.parents.empty()) return;
    const bool single = finding.parents.size() == 1;
    if (!single && seen.at_least > 0) {
      to_solve_.push_back(seen);
      return;
    }
    const auto log_inverse = [&](const Posterior& given) {
      const Probability parent = given.hidden.at(finding.parents.front().parent.at());
      return std::log(single ? inverse_weight_single(finding, seen, parent)
                             : inverse_weight_estimate(finding, seen, given));
    };
    const double log_weight = log_inverse(given_.absent) - log_inverse(given_.present);
    if (!std::isfinite(log_weight)) {
      to_solve_.push_back(seen);  // it excludes a setting altogether
    } else if (single) {
      list_.push_back({GroundFinding{seen.finding.index}, log_weight});
    } else {
      estimates_.push_back({seen, log_weight});
    }
  }

  void add_strongest_estimates(std::size_t how_many) {
    std::stable_sort(estimates_.begin(), estimates_.end(),
                     [](const Estimate& a, const Estimate& b) {
                       return std::fabs(a.log_weight) > std::fabs(b.log_weight);
                     });
    if (estimates_.size() > how_many) estimates_.resize(how_many);
    for (const Estimate& estimate : estimates_) to_solve_.push_back(estimate.seen);
  }

  // Numbers under which the finding says nothing stand for its absence from the evidence: the plan
  // stays the same, so many go through one sweep.
  void solve() {
    std::vector<network::Network> without;
    for (const Observation& seen : to_solve_)
      without.push_back(without_weight(job_.network(), seen));
    const auto outcomes = job_.solver().solve_networks(job_.evidence(), without);
    const double with_all = job_.chance(now_, cause_).log_odds();
    for (std::size_t i = 0; i < outcomes.size(); ++i) {
      const auto* rest = std::get_if<Posterior>(&outcomes[i]);
      if (rest == nullptr) continue;
      const double log_weight = with_all - job_.chance(*rest, cause_).log_odds();
      if (std::isnan(log_weight)) continue;  // settled with it and without it
      list_.push_back({GroundFinding{to_solve_[i].finding.index}, log_weight});
    }
  }

  JobModel& job_;
  const Posterior& now_;
  GroundCause cause_;
  Given given_;
  std::vector<WeighedFinding> list_;
  std::vector<Estimate> estimates_;
  std::vector<Observation> to_solve_;
};

}  // namespace

std::vector<WeighedFinding> weigh_findings(JobModel& job, const Posterior& now, GroundCause cause,
                                           std::size_t how_many) {
  auto given = posteriors_given(job, job.hidden(cause));
  if (!given) return {};  // the cause is certain either way: nothing can move it
  return Weigher(job, now, cause, std::move(*given)).weigh(how_many);
}

}  // namespace slipcase::advice
