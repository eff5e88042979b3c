// How much the ranking hangs on how few jobs stand behind the counts.
#pragma once

#include <cstdint>
#include <vector>

#include "advice/stories.h"

namespace slipcase::advice {

struct Spread {
  double low = 0;    // 5 of 100 draws gave less
  double high = 1;   // 5 of 100 gave more
  double first = 0;  // share of the draws in which it was the cause to start with
};

/// Per ground cause; empty when nothing can be computed in the memory given. Every count is drawn
/// anew `draws` times (model/draws.h) and the job solved with each.
[[nodiscard]] std::vector<Spread> how_sure(JobModel& job, const Stories& stories, std::size_t draws,
                                           std::uint64_t seed);

}  // namespace slipcase::advice
