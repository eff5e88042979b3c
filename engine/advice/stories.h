// Which likely cause made which: a fault and what it then caused are one story, told from its
// start.
#pragma once

#include <optional>
#include <vector>

#include "advice/job_model.h"

namespace slipcase::advice {

/// Something speaks for the cause: it stands at one in a hundred or more, and clearly above where
/// it stood before any finding.
[[nodiscard]] bool is_raised(Probability before, Probability now);

/// Of the jobs like this one that have the consequence, in the share `chance` this origin made it
/// (exact; several may have made it at once).
struct Making {
  GroundCause origin;
  GroundCause consequence;
  double chance = 0.0;
};

struct StoryLine {
  GroundCause start;
  std::vector<GroundCause> then;  // what it then caused, likeliest first
};

class Stories {
 public:
  Stories(JobModel& job, const network::Posterior& before, const network::Posterior& now);

  [[nodiscard]] const std::vector<Making>& makings() const { return makings_; }
  /// Of the judged causes that something speaks for; the one with the likeliest member first.
  [[nodiscard]] const std::vector<StoryLine>& lines() const { return lines_; }
  [[nodiscard]] std::optional<GroundCause> first() const;

  /// The cause to start with under other chances: the start of the most likely raised one's story,
  /// as long as it is still there in most of the jobs that have the consequence. Where none is
  /// raised the most likely one; none where no cause is judged.
  [[nodiscard]] std::optional<GroundCause> leader(const JobModel& job,
                                                  const std::vector<Probability>& chances) const;

 private:
  [[nodiscard]] std::optional<GroundCause> maker_of(GroundCause consequence) const;
  void find_makings(JobModel& job, const network::Posterior& now);
  void fold(const std::vector<GroundCause>& raised);

  std::vector<Probability> before_;  // per cause
  std::vector<Making> makings_;
  std::vector<StoryLine> lines_;
  std::vector<std::optional<GroundCause>> main_origin_;  // per cause: made it in most jobs
};

}  // namespace slipcase::advice
