// "8 of 10": a share as a shop counts it, with the weight of how many were counted.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "slipcase/probability.h"

namespace slipcase::units {

inline constexpr std::uint64_t largest_count = 1'000'000'000'000'000'000U;

class Count {
 public:
  /// Nothing when n is 0, k above n or n above 10^18.
  [[nodiscard]] static constexpr std::optional<Count> from(std::uint64_t k, std::uint64_t n) {
    if (n == 0 || k > n || n > largest_count) return std::nullopt;
    return Count(k, n);
  }

  [[nodiscard]] constexpr std::uint64_t hits() const { return hits_; }
  [[nodiscard]] constexpr std::uint64_t total() const { return total_; }
  /// k/n as counted: 0 of 30 is 0.
  [[nodiscard]] Probability share() const { return *Probability::from_count(hits_, total_); }
  /// k/n, with half a count where k is 0: "never seen" is not "impossible".
  [[nodiscard]] Probability share_at_least_half() const {
    if (hits_ > 0) return share();
    const double n = static_cast<double>(total_);
    return *Probability::from_weights(0.5, n - 0.5);
  }
  [[nodiscard]] std::string text() const {
    return std::to_string(hits_) + " of " + std::to_string(total_);
  }

  friend constexpr bool operator==(Count, Count) = default;

 private:
  constexpr Count(std::uint64_t k, std::uint64_t n) : hits_(k), total_(n) {}
  std::uint64_t hits_;
  std::uint64_t total_;
};

}  // namespace slipcase::units
