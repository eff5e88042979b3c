// Shares as exact pairs of whole numbers, so that a rule file can state them without rounding.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

namespace reference {

struct Share {
  std::uint64_t hits = 0;
  std::uint64_t total = 1;
};

/// "0.0843", "5.75e-05", "1": exactly. Throws for anything else or for more than 18 decimals.
[[nodiscard]] Share share_from_decimal(std::string_view text);
/// The shortest decimal number that reads back as `value`.
[[nodiscard]] Share share_from(double value);
/// "843/10000"
[[nodiscard]] Share share_from_fraction(std::string_view text);

/// The count a rule states for a link that is given as "this cause alone produces the finding":
/// 1 - (1 - otherwise)(1 - link), exactly.
[[nodiscard]] Share with_otherwise(const Share& otherwise, const Share& link);

/// "843 of 10000"
[[nodiscard]] std::string in_words(const Share& share);

}  // namespace reference
