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

  /// Asks for all of these at once, on all threads of the machine; of() then knows them.
  void ask(const std::vector<RepairList>& sets);

 private:
  using Key = std::vector<std::uint32_t>;

  [[nodiscard]] static Key key_of(const RepairList& repairs);
  [[nodiscard]] double weight(const RepairList& repairs) const;
  [[nodiscard]] double share(double weight) const;

  JobModel& job_;
  network::Solver& like_;  // orders start from its own
  std::vector<network::FindingId> complaint_;
  const std::vector<network::Cure>& tried_;
  double log_evidence_ = 0;
  double gone_ = 0;  // ended by what was tried
  std::map<Key, double> known_;
};

}  // namespace slipcase::advice
