// Independent tasks on several threads.
#pragma once

#include <algorithm>
#include <atomic>
#include <cstddef>
#include <future>
#include <thread>
#include <vector>

namespace slipcase::network {

/// More would not help: what is shared out here takes milliseconds.
inline constexpr unsigned most_hands = 8;

[[nodiscard]] inline unsigned hands_of_this_machine() {
  return std::clamp(std::thread::hardware_concurrency(), 1U, most_hands);
}

/// Calls task(i, hand) once for every i below `count`; no two calls at a time have the same hand,
/// which is below `hands`. What a task does must not hang on the order or on its hand. Where the
/// system has no thread to give, the caller's own does all.
template <class Task>
void share_out(std::size_t count, unsigned hands, const Task& task) {
  std::atomic<std::size_t> next{0};
  const auto work = [&next, count, &task](unsigned hand) {
    for (std::size_t i = next++; i < count; i = next++) task(i, hand);
  };
  std::vector<std::future<void>> others;
  for (unsigned hand = 1; hand < hands && hand < count; ++hand)
    others.push_back(std::async(work, hand));
  work(0);
  for (std::future<void>& other : others) other.get();
}

}  // namespace slipcase::network
