// How a batch of questions is cut up: questions of one shape go eight at a time through one plan,
// and the pieces over several threads.
#pragma once

#include <cstddef>
#include <memory>
#include <vector>

#include "network/plan.h"

namespace slipcase::network {

/// Questions with one plan, by their place in the batch.
struct Group {
  std::vector<std::size_t> members;
  std::shared_ptr<const Plan> plan;
};

/// What one thread does at a time: a pack of questions with one plan, or a single one.
struct Slice {
  std::vector<std::size_t> members;
  std::shared_ptr<const Plan> plan;
  bool as_pack = false;
};

[[nodiscard]] std::vector<Slice> slices_of(const std::vector<Group>& groups,
                                           std::size_t memory_bytes);

/// `available`, or one where the work is not worth a second thread or the memory allowed not enough
/// for two.
[[nodiscard]] unsigned hands_for(const std::vector<Slice>& slices, unsigned available,
                                 std::size_t memory_bytes);

}  // namespace slipcase::network
