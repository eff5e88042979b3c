#include "advice/job_oracle.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace slipcase::advice {

using decision::Path;
using decision::Prospect;
using decision::RepairSet;
using network::Evidence;
using network::LogEvidence;
using network::Observation;

namespace {

using Observations = std::vector<Observation>;

/// The answers of several findings as one number: the first finding changes fastest.
class Answers {
 public:
  explicit Answers(std::vector<std::uint32_t> grades) : grades_(std::move(grades)) {
    for (const std::uint32_t g : grades_) count_ *= g + 1;
  }

  [[nodiscard]] std::size_t count() const { return count_; }

  [[nodiscard]] std::vector<std::uint32_t> levels(std::size_t answer) const {
    std::vector<std::uint32_t> result;
    for (const std::uint32_t g : grades_) {
      result.push_back(static_cast<std::uint32_t>(answer % (g + 1)));
      answer /= g + 1;
    }
    return result;
  }

  /// From "at most these levels" to "exactly these levels", in place.
  void take_differences(std::vector<double>& values) const {
    std::size_t step = 1;
    for (const std::uint32_t g : grades_) {
      for (std::size_t i = count_; i-- > 0;)
        if (i / step % (g + 1) > 0) values[i] = std::max(0.0, values[i] - values[i - step]);
      step *= g + 1;
    }
  }

 private:
  std::vector<std::uint32_t> grades_;
  std::size_t count_ = 1;
};

std::vector<double> logs_of_all(network::Solver& solver, const std::vector<Evidence>& all) {
  std::vector<double> logs;
  for (const LogEvidence& log : solver.log_evidence_batch(all)) {
    const double* value = std::get_if<double>(&log);
    logs.push_back(value != nullptr ? *value : -std::numeric_limits<double>::infinity());
  }
  return logs;
}

}  // namespace

JobOracle::JobOracle(JobModel& job, std::vector<network::FindingId> complaint,
                     std::vector<std::vector<network::Cure>> repairs,
                     std::vector<network::Cure> tried, std::vector<OpenQuestion> questions)
    : job_(job),
      complaint_(std::move(complaint)),
      repairs_(std::move(repairs)),
      tried_(std::move(tried)),
      questions_(std::move(questions)) {
  const LogEvidence log = job_.solver_before_repairs().log_evidence(job_.evidence_before_repairs());
  if (const double* value = std::get_if<double>(&log)) log_evidence_ = *value;
  if (const auto* wide = std::get_if<network::TooWide>(&log))
    too_wide_ = TooWide{wide->width, wide->bytes_needed};
}

std::uint32_t JobOracle::grades(GroundFinding finding) const {
  return static_cast<std::uint32_t>(job_.network().findings.at(finding.at()).leak.size());
}

JobOracle::SetSolver& JobOracle::solver_for(RepairSet set) {
  std::unique_ptr<SetSolver>& place = solvers_[set];
  if (!place) {
    std::vector<network::Cure> cures = tried_;
    for (std::size_t r = 0; r < repairs_.size(); ++r)
      if ((set >> r & 1U) != 0) cures.insert(cures.end(), repairs_[r].begin(), repairs_[r].end());
    network::CureQuestion question =
        network::ended_by(job_.network(), job_.observations(), cures, complaint_);
    network::Solver solver(question.network);
    solver.start_orders_like(job_.solver_before_repairs(), question.likeness);
    place = std::make_unique<SetSolver>(SetSolver{std::move(question), std::move(solver)});
  }
  return *place;
}

std::vector<double> JobOracle::weights(network::Solver& solver, const Evidence& evidence,
                                       const std::vector<Observations>& suppositions) {
  std::vector<Evidence> all;
  for (const Observations& more : suppositions) {
    all.push_back(evidence);
    all.back().findings.insert(all.back().findings.end(), more.begin(), more.end());
  }
  std::vector<double> result;
  for (const LogEvidence& log : solver.log_evidence_batch(all)) {
    const double* value = std::get_if<double>(&log);
    result.push_back(value != nullptr ? std::exp(*value - log_evidence_) : 0.0);
    if (const auto* wide = std::get_if<network::TooWide>(&log))
      too_wide_ = TooWide{wide->width, wide->bytes_needed};
  }
  return result;
}

std::vector<Observation> JobOracle::observations_of(const decision::Answer& answer) const {
  const OpenQuestion& question = questions_.at(answer.check);
  std::vector<std::uint32_t> grade_counts;
  for (const GroundFinding f : question.findings) grade_counts.push_back(grades(f));
  const auto levels = Answers(grade_counts).levels(answer.outcome);
  Observations seen;
  for (std::size_t i = 0; i < levels.size(); ++i)
    seen.push_back({network::FindingId{question.findings[i].index}, levels[i], levels[i]});
  return seen;
}

std::size_t JobOracle::outcome_count(std::size_t question) const {
  std::size_t count = 1;
  for (const GroundFinding f : questions_.at(question).findings) count *= grades(f) + 1;
  return count;
}

Observations JobOracle::observations_on(const Path& path) const {
  Observations seen;
  for (const decision::Answer& answer : path) {
    const Observations more = observations_of(answer);
    seen.insert(seen.end(), more.begin(), more.end());
  }
  return seen;
}

std::vector<Prospect> JobOracle::prospects(const Observations& path, std::size_t question) {
  std::vector<GroundFinding> findings;
  if (question < questions_.size()) findings = questions_[question].findings;
  std::vector<std::uint32_t> grade_counts;
  for (const GroundFinding f : findings) grade_counts.push_back(grades(f));
  const Answers answers(grade_counts);

  std::vector<Observations> suppositions;
  for (std::size_t a = 0; a < answers.count(); ++a) {
    suppositions.push_back(path);
    const auto levels = answers.levels(a);
    for (std::size_t i = 0; i < levels.size(); ++i)
      if (levels[i] < grade_counts[i])
        suppositions.back().push_back({network::FindingId{findings[i].index}, 0, levels[i]});
  }

  std::vector<double> chances =
      weights(job_.solver_before_repairs(), job_.evidence_before_repairs(), suppositions);
  answers.take_differences(chances);
  const std::size_t sets = std::size_t{1} << repairs_.size();
  std::vector<std::vector<double>> ended(sets);
  for (RepairSet set = 0; set < sets; ++set) {
    if (set == 0 && tried_.empty()) {
      ended[set].assign(chances.size(), 0.0);
      continue;
    }
    SetSolver& of_set = solver_for(set);
    ended[set] = weights(of_set.solver, of_set.question.evidence, suppositions);
    answers.take_differences(ended[set]);
  }

  std::vector<Prospect> result;
  for (std::size_t a = 0; a < chances.size(); ++a) {
    // What was tried did not end it: that case is out, and so is its share of every set.
    const double gone = ended[0][a];
    Prospect prospect{.chance = std::max(0.0, chances[a] - gone), .ended = {}};
    for (RepairSet set = 0; set < sets; ++set)
      prospect.ended.push_back(std::clamp(ended[set][a] - gone, 0.0, prospect.chance));
    result.push_back(std::move(prospect));
  }
  return result;
}

double JobOracle::states_of_all_repairs() {
  SetSolver& all = solver_for((RepairSet{1} << repairs_.size()) - 1);
  return all.solver.plan_info(all.question.evidence).operations;
}

std::vector<double> JobOracle::weights_without(network::Solver& solver, const Evidence& evidence,
                                               const std::vector<GroundFinding>& findings) {
  std::vector<Evidence> all;
  for (const GroundFinding finding : findings) {
    all.push_back(evidence);
    std::erase_if(all.back().findings,
                  [&](const Observation& o) { return o.finding.index == finding.index; });
  }
  return logs_of_all(solver, all);
}

std::vector<double> JobOracle::ends_without(RepairSet set,
                                            const std::vector<GroundFinding>& findings) {
  const auto logs_of = [&](RepairSet cured) {
    SetSolver& solver = solver_for(cured);
    return weights_without(solver.solver, solver.question.evidence, findings);
  };
  const std::vector<double> all =
      weights_without(job_.solver_before_repairs(), job_.evidence_before_repairs(), findings);
  const std::vector<double> ended = logs_of(set);
  const std::vector<double> gone =
      tried_.empty() ? std::vector<double>(findings.size(), -INFINITY) : logs_of(0);
  return shares(all, ended, gone);
}

std::vector<double> JobOracle::shares(const std::vector<double>& all,
                                      const std::vector<double>& ended,
                                      const std::vector<double>& gone) {
  std::vector<double> result;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const double gone_share = std::exp(gone[i] - all[i]);
    const double open = 1.0 - gone_share;
    const double ends = std::exp(ended[i] - all[i]) - gone_share;
    result.push_back(open > 0 ? std::clamp(ends / open, 0.0, 1.0) : 0.0);
  }
  return result;
}

std::vector<double> JobOracle::ends_along(RepairSet set,
                                          const std::vector<GroundFinding>& findings) {
  const auto logs_of = [&](network::Solver& solver, Evidence evidence) {
    const auto is_listed = [&](const Observation& o) {
      return std::ranges::find(findings, GroundFinding{o.finding.index}) != findings.end();
    };
    const Observations known = evidence.findings;
    std::erase_if(evidence.findings, is_listed);
    std::vector<Evidence> all{evidence};
    for (const GroundFinding finding : findings) {
      all.push_back(all.back());
      for (const Observation& seen : known)
        if (seen.finding.index == finding.index) all.back().findings.push_back(seen);
    }
    return logs_of_all(solver, all);
  };
  const auto of_set = [&](RepairSet cured) {
    SetSolver& solver = solver_for(cured);
    return logs_of(solver.solver, solver.question.evidence);
  };
  const std::vector<double> all =
      logs_of(job_.solver_before_repairs(), job_.evidence_before_repairs());
  const std::vector<double> gone =
      tried_.empty() ? std::vector<double>(all.size(), -INFINITY) : of_set(0);
  return shares(all, of_set(set), gone);
}

Prospect JobOracle::now(const Path& path) {
  if (path.empty()) {
    if (!now_) now_ = prospects({}, questions_.size()).front();
    return *now_;
  }
  return prospects(observations_on(path), questions_.size()).front();
}

std::vector<Prospect> JobOracle::after(const Path& path, std::size_t check) {
  if (!path.empty()) return prospects(observations_on(path), check);
  const auto found = first_answers_.find(check);
  if (found != first_answers_.end()) return found->second;
  return first_answers_[check] = prospects({}, check);
}

}  // namespace slipcase::advice
