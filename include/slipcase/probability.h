// A probability that keeps its complement.
//
// Inference multiplies and adds both p and 1 - p; forming 1 - p late loses the digits of a small p
// (and of a p close to one). So both halves are carried from the place where they were known.
#pragma once

#include <cmath>
#include <cstdint>
#include <optional>

namespace slipcase {

class Probability {
 public:
  constexpr Probability() = default;

  [[nodiscard]] static constexpr Probability never() { return {0.0, 1.0}; }
  [[nodiscard]] static constexpr Probability certain() { return {1.0, 0.0}; }

  /// From a number in 0..1; nothing for anything else (NaN too).
  [[nodiscard]] static constexpr std::optional<Probability> from(double p) {
    if (!(p >= 0.0 && p <= 1.0)) return std::nullopt;
    return Probability{p, 1.0 - p};
  }

  /// From the weights of "yes" and "no" (both >= 0, not both 0): yes / (yes + no).
  [[nodiscard]] static constexpr std::optional<Probability> from_weights(double yes, double no) {
    const double sum = yes + no;
    if (!(yes >= 0.0 && no >= 0.0 && sum > 0.0)) return std::nullopt;
    return Probability{yes / sum, no / sum};
  }

  /// k of n as whole counts; nothing when n is 0 or k is above n.
  [[nodiscard]] static constexpr std::optional<Probability> from_count(std::uint64_t k,
                                                                       std::uint64_t n) {
    if (n == 0 || k > n) return std::nullopt;
    return Probability{static_cast<double>(k) / static_cast<double>(n),
                       static_cast<double>(n - k) / static_cast<double>(n)};
  }

  [[nodiscard]] constexpr double value() const { return yes_; }
  [[nodiscard]] constexpr double complement() const { return no_; }
  [[nodiscard]] constexpr Probability inverted() const { return {no_, yes_}; }

  /// Natural logarithm of the odds; infinite at 0 and 1.
  [[nodiscard]] double log_odds() const { return std::log(yes_) - std::log(no_); }

  /// The same chance with its odds multiplied by `factor` (>= 0).
  [[nodiscard]] constexpr Probability with_odds_times(double factor) const {
    return from_weights(yes_ * factor, no_).value_or(*this);
  }

  friend constexpr bool operator==(Probability, Probability) = default;

 private:
  constexpr Probability(double yes, double no) : yes_(yes), no_(no) {}

  double yes_ = 0.0;
  double no_ = 1.0;
};

}  // namespace slipcase
