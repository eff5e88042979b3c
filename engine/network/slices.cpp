#include "network/slices.h"

#include <algorithm>

#include "network/lane.h"

namespace slipcase::network {

namespace {

/// Below this many, one by one is faster than a pack with empty lanes.
constexpr std::size_t worth_a_pack = 3;

/// Beyond the second-level cache eight at once gain nothing, and touching their memory for the
/// first time costs more than the sweep.
constexpr double most_pack_bytes = 1 << 20;

/// Starting a thread costs as much as touching so many states.
constexpr double worth_a_thread = 2e5;

constexpr auto pack_lanes = static_cast<double>(Pack::size);

bool goes_in_packs(const Plan& plan, std::size_t memory_bytes) {
  const double bytes = plan.bytes * pack_lanes;
  return !plan.branch_on && bytes <= static_cast<double>(memory_bytes) && bytes <= most_pack_bytes;
}

}  // namespace

std::vector<Slice> slices_of(const std::vector<Group>& groups, std::size_t memory_bytes) {
  std::vector<Slice> slices;
  for (const Group& group : groups) {
    const bool packs = goes_in_packs(*group.plan, memory_bytes);
    auto first = group.members.begin();
    while (first != group.members.end()) {
      const auto left = static_cast<std::size_t>(group.members.end() - first);
      const bool as_pack = packs && left >= worth_a_pack;
      const std::size_t size = as_pack ? std::min<std::size_t>(Pack::size, left) : 1;
      const auto last = first + static_cast<std::ptrdiff_t>(size);
      slices.push_back({{first, last}, group.plan, as_pack});
      first = last;
    }
  }
  return slices;
}

unsigned hands_for(const std::vector<Slice>& slices, unsigned available, std::size_t memory_bytes) {
  double work = 0;
  double most_bytes = 0;
  for (const Slice& slice : slices) {
    const double lane_count = slice.as_pack ? pack_lanes : 1.0;
    work += slice.plan->program.cost * lane_count;
    most_bytes = std::max(most_bytes, slice.plan->bytes * lane_count);
  }
  const bool fit = most_bytes * available <= static_cast<double>(memory_bytes);
  return fit && work > worth_a_thread ? available : 1;
}

}  // namespace slipcase::network
