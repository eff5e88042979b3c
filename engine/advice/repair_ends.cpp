#include "advice/repair_ends.h"

#include <algorithm>
#include <cmath>

#include "network/cure.h"
#include "network/share_out.h"

namespace slipcase::advice {

namespace {

/// Each network is asked once.
constexpr double effort_for_one_question = 0.3;

}  // namespace

RepairEnds::RepairEnds(JobModel& job, std::vector<network::FindingId> complaint,
                       const std::vector<network::Cure>& tried)
    : job_(job),
      like_(job.solver_before_repairs()),
      complaint_(std::move(complaint)),
      tried_(tried) {
  const auto log = like_.log_evidence(job.evidence_before_repairs());
  if (const double* value = std::get_if<double>(&log)) log_evidence_ = *value;
  if (!tried_.empty()) gone_ = weight({});
}

double RepairEnds::weight(const RepairList& repairs) const {
  std::vector<network::Cure> cures = tried_;
  for (const RepairStep* repair : repairs)
    cures.insert(cures.end(), repair->cures.begin(), repair->cures.end());
  const network::CureQuestion question =
      network::ended_by(job_.network(), job_.observations(), cures, complaint_);
  network::Solver solver(question.network, {.memory_bytes = job_.memory_bytes(),
                                            .search_effort = effort_for_one_question,
                                            .threads = 1});
  solver.start_orders_like(like_, question.likeness);
  const network::LogEvidence log = solver.log_evidence(question.evidence);
  const double* value = std::get_if<double>(&log);
  return value != nullptr ? std::exp(*value - log_evidence_) : 0.0;
}

double RepairEnds::share(double weight) const {
  return std::clamp((weight - gone_) / (1.0 - gone_), 0.0, 1.0);
}

RepairEnds::Key RepairEnds::key_of(const RepairList& repairs) {
  Key key;
  for (const RepairStep* repair : repairs) key.push_back(repair->repair.index);
  std::ranges::sort(key);
  return key;
}

double RepairEnds::of(const RepairList& repairs) {
  if (repairs.empty() || gone_ >= 1.0) return 0.0;
  const auto [known, added] = known_.try_emplace(key_of(repairs), 0.0);
  if (added) known->second = share(weight(repairs));
  return known->second;
}

void RepairEnds::ask(const std::vector<RepairList>& sets) {
  if (gone_ >= 1.0) return;
  std::vector<std::pair<const RepairList*, double*>> open;
  for (const RepairList& set : sets) {
    if (set.empty()) continue;
    const auto [known, added] = known_.try_emplace(key_of(set), 0.0);
    if (added) open.emplace_back(&set, &known->second);
  }
  network::share_out(open.size(), network::hands_of_this_machine(), [&](std::size_t i, unsigned) {
    *open[i].second = share(weight(*open[i].first));
  });
}

}  // namespace slipcase::advice
