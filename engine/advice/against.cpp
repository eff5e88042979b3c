#include "advice/against.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "advice/outlook.h"
#include "support/sort_key.h"

namespace slipcase::advice {
namespace {

using network::Evidence;
using network::Held;
using network::LogEvidence;
using network::Observation;

constexpr double worth_naming_known = 0.02;    // in log odds
constexpr double worth_naming_unknown = 1e-3;  // in bits

Probability from(double p) {
  return Probability::from(std::clamp(p, 0.0, 1.0)).value_or(Probability::never());
}

/// The job under one of the two suppositions.
class Side {
 public:
  Side(JobModel& job, GroundCause present, GroundCause absent) : job_(job) {
    held_ = {Held{job.hidden(present), true}, Held{job.hidden(absent), false}};
    whole_ = logs({evidence()}).front();
  }

  [[nodiscard]] double whole() const { return whole_; }

  /// ln P(everything known but this), per known finding.
  [[nodiscard]] std::vector<double> without(const std::vector<Observation>& known) const {
    std::vector<Evidence> all;
    for (const Observation& seen : known) {
      all.push_back(evidence());
      std::erase_if(all.back().findings,
                    [&](const Observation& o) { return o.finding == seen.finding; });
    }
    return logs(all);
  }

  /// Chance of "not there", per finding.
  [[nodiscard]] std::vector<double> chance_of_no(const std::vector<GroundFinding>& open) const {
    std::vector<Evidence> all;
    for (const GroundFinding finding : open) {
      all.push_back(evidence());
      all.back().findings.push_back({network::FindingId{finding.index}, 0, 0});
    }
    std::vector<double> result;
    for (const double log : logs(all)) result.push_back(std::exp(log - whole_));
    return result;
  }

 private:
  [[nodiscard]] Evidence evidence() const {
    return {job_.observations(), held_, job_.evidence().complaint_stayed};
  }

  [[nodiscard]] std::vector<double> logs(const std::vector<Evidence>& evidence) const {
    std::vector<double> result;
    for (const LogEvidence& log : job_.solver().log_evidence_batch(evidence)) {
      const double* value = std::get_if<double>(&log);
      result.push_back(value != nullptr ? *value : -std::numeric_limits<double>::infinity());
    }
    return result;
  }

  JobModel& job_;
  std::vector<Held> held_;
  double whole_ = 0;
};

Separator describe(const JobModel& job, GroundFinding finding) {
  const FindingReport reported = report(job, finding);
  Separator separator;
  separator.finding = reported.id;
  separator.says = reported.says;
  separator.state = reported.state;
  separator.grade = reported.grade;
  return separator;
}

std::vector<Separator> known_separators(const JobModel& job, const Side& here, const Side& there) {
  const std::vector<Observation>& known = job.observations();
  const std::vector<double> without_here = here.without(known);
  const std::vector<double> without_there = there.without(known);
  std::vector<Separator> result;
  for (std::size_t i = 0; i < known.size(); ++i) {
    const double factor = (here.whole() - without_here[i]) - (there.whole() - without_there[i]);
    if (!(std::abs(factor) > worth_naming_known)) continue;
    result.push_back(describe(job, GroundFinding{known[i].finding.index}));
    result.back().log_factor = factor;
  }
  std::ranges::stable_sort(result, std::ranges::greater{},
                           [](const Separator& s) { return sort_key(std::abs(s.log_factor)); });
  return result;
}

/// The check that answers the finding, or the question.
void name_way(const JobModel& job, const Ways& ways, GroundFinding finding, Separator& separator) {
  const auto check = ways.to(finding);
  separator.check = check ? job.ground().name_of(*check) : std::string();
  separator.found_by = check ? job.ground().says(*check) : job.ground().asks(finding);
}

std::vector<Separator> unknown_separators(const JobModel& job, const Ways& ways, const Side& here,
                                          const Side& there) {
  std::vector<GroundFinding> open;
  for (std::uint32_t f = 0; f < job.ground().findings.size(); ++f) {
    if (is_open(job, GroundFinding{f}) && !job.network().findings[f].parents.empty())
      open.push_back(GroundFinding{f});
  }
  const std::vector<double> no_here = here.chance_of_no(open);
  const std::vector<double> no_there = there.chance_of_no(open);
  const double share = 1.0 / (1.0 + std::exp(there.whole() - here.whole()));
  std::vector<Separator> result;
  for (std::size_t i = 0; i < open.size(); ++i) {
    const double no = share * no_here[i] + (1 - share) * no_there[i];
    // I(finding; which) = H(finding) - E[H(finding | which)].
    const double bits = entropy_bits(from(no)) - share * entropy_bits(from(no_here[i])) -
                        (1 - share) * entropy_bits(from(no_there[i]));
    if (!(bits > worth_naming_unknown)) continue;
    Separator separator = describe(job, open[i]);
    separator.bits = bits;
    separator.if_this = from(1 - no_here[i]);
    separator.if_other = from(1 - no_there[i]);
    name_way(job, ways, open[i], separator);
    result.push_back(std::move(separator));
  }
  std::ranges::stable_sort(result, std::ranges::greater{},
                           [](const Separator& s) { return sort_key(s.bits); });
  return result;
}

}  // namespace

Answer<Against> tell_apart(JobModel& job, const Ways& ways, const network::Posterior& now,
                           GroundCause cause, GroundCause other) {
  const Side here(job, cause, other);
  const Side there(job, other, cause);
  Against against;
  against.other = job.ground().name_of(other);
  against.says = job.ground().says(other);
  against.chance = job.chance(now, other);
  against.log_odds = here.whole() - there.whole();
  if (!std::isfinite(against.log_odds)) return against;  // one of them is ruled out
  against.known = known_separators(job, here, there);
  against.unknown = unknown_separators(job, ways, here, there);
  return against;
}

}  // namespace slipcase::advice
