// How often a set of repairs ends the complaint: asked for one set after another, each answer kept.
#pragma once

#include <map>
#include <vector>

#include "advice/job_model.h"
#include "advice/workshop.h"

namespace slipcase::advice {

using RepairList = std::vector<const RepairStep*>;

class RepairEnds {
 public:
  /// `tried`: what was cured already without ending the complaint.
  RepairEnds(JobModel& job, std::vector<network::FindingId> complaint,
             const std::vector<network::Cure>& tried);

  /// Done together, in jobs like this in which what was tried did not end it. 0 where the question
  /// is too wide for the memory given.
  [[nodiscard]] double of(const RepairList& repairs);

 private:
  [[nodiscard]] double weight(const RepairList& repairs);

  JobModel& job_;
  std::vector<network::FindingId> complaint_;
  const std::vector<network::Cure>& tried_;
  double log_evidence_ = 0;
  double gone_ = 0;  // ended by what was tried
  std::map<std::vector<std::uint32_t>, double> known_;
};

}  // namespace slipcase::advice
