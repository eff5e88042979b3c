// Whether chances come true: of all causes given about 30 of 100, are 30 of 100 there?
//
// If each chance p was right, the number present among those of a band has mean sum p and, as far
// as causes of one job do not hang together, variance sum p (1 - p). Within a job they mostly
// exclude each other, which makes the true variance smaller and this check lenient.
#pragma once

#include <array>
#include <cstddef>

namespace self_check {

struct Band {
  std::size_t count = 0;
  std::size_t present = 0;
  double given = 0.0;     // sum of p
  double variance = 0.0;  // sum of p (1 - p)

  void add(double chance, bool is_there);

  [[nodiscard]] double mean_given() const { return given / static_cast<double>(count); }
  [[nodiscard]] double share_present() const {
    return static_cast<double>(present) / static_cast<double>(count);
  }
  /// How many sampling errors the number present lies above what was given.
  [[nodiscard]] double off_by() const;
};

/// A. H. Murphy, "A new vector partition of the probability score", Journal of Applied Meteorology
/// 12 (1973), from memory: score = reliability - resolution + uncertainty, but for the spread of
/// chances within a band.
struct BrierScore {
  double score = 0.0;
  double reliability = 0.0;
  double resolution = 0.0;
  double uncertainty = 0.0;
};

class Calibration {
 public:
  static constexpr std::array upper_ends = {0.01, 0.05, 0.1, 0.2, 0.4, 0.6, 0.8, 0.9, 0.97, 1.0};

  void add(double given, bool present);

  [[nodiscard]] const std::array<Band, upper_ends.size()>& bands() const { return bands_; }
  [[nodiscard]] Band all() const;
  [[nodiscard]] BrierScore brier() const;

  /// Sum of off_by() squared against the 0.999 quantile of chi-square, over the bands in which
  /// enough can be told apart to speak of a normal distribution.
  struct Verdict {
    double chi_square = 0.0;
    double limit = 0.0;
    double worst = 0.0;  // off_by() of the worst band
    [[nodiscard]] bool holds() const { return chi_square <= limit && worst <= most_off; }
  };
  static constexpr double most_off = 4.0;
  [[nodiscard]] Verdict verdict() const;

 private:
  std::array<Band, upper_ends.size()> bands_;
  double squares_ = 0.0;
};

}  // namespace self_check
