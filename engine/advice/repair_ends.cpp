#include "advice/repair_ends.h"

#include <algorithm>
#include <cmath>

#include "network/cure.h"

namespace slipcase::advice {

namespace {

/// Each network is asked once.
constexpr double effort_for_one_question = 0.3;

}  // namespace

RepairEnds::RepairEnds(JobModel& job, std::vector<network::FindingId> complaint,
                       const std::vector<network::Cure>& tried)
    : job_(job), complaint_(std::move(complaint)), tried_(tried) {
  const auto log = job.solver_before_repairs().log_evidence(job.evidence_before_repairs());
  if (const double* value = std::get_if<double>(&log)) log_evidence_ = *value;
  if (!tried_.empty()) gone_ = weight({});
}

double RepairEnds::weight(const RepairList& repairs) {
  std::vector<network::Cure> cures = tried_;
  for (const RepairStep* repair : repairs)
    cures.insert(cures.end(), repair->cures.begin(), repair->cures.end());
  const network::CureQuestion question =
      network::ended_by(job_.network(), job_.observations(), cures, complaint_);
  network::Solver solver(question.network, {.memory_bytes = job_.memory_bytes(),
                                            .search_effort = effort_for_one_question});
  solver.start_orders_like(job_.solver_before_repairs(), question.likeness);
  const network::LogEvidence log = solver.log_evidence(question.evidence);
  const double* value = std::get_if<double>(&log);
  return value != nullptr ? std::exp(*value - log_evidence_) : 0.0;
}

double RepairEnds::of(const RepairList& repairs) {
  if (repairs.empty() || gone_ >= 1.0) return 0.0;
  std::vector<std::uint32_t> key;
  for (const RepairStep* repair : repairs) key.push_back(repair->repair.index);
  std::ranges::sort(key);
  const auto known = known_.find(key);
  if (known != known_.end()) return known->second;
  const double ends = std::clamp((weight(repairs) - gone_) / (1.0 - gone_), 0.0, 1.0);
  known_.emplace(std::move(key), ends);
  return ends;
}

}  // namespace slipcase::advice
