// A product of many small factors that neither underflows nor loses digits to logarithms.
#pragma once

#include <cmath>
#include <cstdint>

namespace slipcase::network {

class Scaled {
 public:
  void times(double x) {
    mantissa_ *= x;
    if (mantissa_ < 0x1p-500) {
      mantissa_ *= 0x1p500;
      exponent_ -= 500;
    }
  }
  void times_power_of_two(std::int64_t e) { exponent_ += e; }

  [[nodiscard]] bool is_zero() const { return mantissa_ == 0.0; }
  /// Minus infinity for zero.
  [[nodiscard]] double log() const {
    constexpr double ln2 = 0.693147180559945309417;
    return std::log(mantissa_) + static_cast<double>(exponent_) * ln2;
  }

 private:
  double mantissa_ = 1.0;
  std::int64_t exponent_ = 0;
};

}  // namespace slipcase::network
