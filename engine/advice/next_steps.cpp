#include "advice/next_steps.h"

#include "advice/planning.h"
#include "advice/step_reports.h"
#include "advice/tried.h"

namespace slipcase::advice {

ComplaintGone describe_end(const JobModel& job, const Complaint& complaint, const JobTitle& title,
                           GroundRepair repair) {
  ComplaintGone gone;
  gone.job = title.job;
  gone.unit = title.unit;
  for (const GroundFinding finding : complaint.findings)
    gone.complaint.push_back(report(job, finding));
  gone.by = report_step(job, repair);
  gone.handover = report_after(job, repair);
  return gone;
}

NextResult next_steps(JobModel& job, const evaluation::JobFacts& facts, const JobTitle& title,
                      const ShopCosts& costs, const NextOptions& options) {
  Planning planning(job, facts, costs);
  if (planning.complaint().findings.empty()) return NoComplaint{};
  if (const auto repair = repair_that_ended(facts))
    return describe_end(job, planning.complaint(), title, *repair);
  Answer<network::Posterior> now = job.solve(job.evidence());
  if (auto* failure = std::get_if<Failure>(&now))
    return std::visit([](auto& why) -> NextResult { return std::move(why); }, *failure);
  planning.choose(std::get<network::Posterior>(now));
  NextAdvice advice = planning.advise(title, options.checks);
  if (planning.oracle().too_wide()) return *planning.oracle().too_wide();
  return advice;
}

}  // namespace slipcase::advice
