// Which single count of the rules would have to be how different for another cause to come first.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "advice/stories.h"
#include "slipcase/reasons.h"
#include "slipcase/source.h"

namespace slipcase::advice {

struct TippingPoint {
  Place place;            // of the count in the rules
  std::size_t grade = 0;  // 0: the weakest, or the only one
  double hits = 0;        // as counted
  double needed = 0;      // the nearest number of hits with which another cause is to start with
  double total = 0;
  GroundCause then_first;
};

/// The smallest changes first, by the odds of the share; at most `how_many`. One count at a time,
/// all others as they are, whole hits of the same number of jobs; the count counts wherever its
/// line reaches.
[[nodiscard]] std::vector<TippingPoint> tipping_points(JobModel& job, const Stories& stories,
                                                       std::size_t how_many);

/// The same for people.
[[nodiscard]] std::vector<TippingCount> tipping_counts(JobModel& job, const Stories& stories,
                                                       std::size_t how_many,
                                                       const SourceSet& sources);

/// Of every finding that is open; likeliest answer first. A graded finding is there or not.
[[nodiscard]] std::vector<TippingAnswer> tipping_answers(JobModel& job, const Stories& stories,
                                                         const network::Posterior& now);

/// The cause that the ranking starts with; none where nothing can be ranked.
[[nodiscard]] std::optional<FirstPlace> first_place(JobModel& job, std::size_t tipping_counts,
                                                    const SourceSet& sources);

}  // namespace slipcase::advice
