#include "reference/share.h"

#include <charconv>
#include <stdexcept>

#include <fmt/core.h>

namespace reference {

namespace {

constexpr unsigned most_decimals = 18;

std::uint64_t power_of_ten(unsigned exponent) {
  if (exponent > most_decimals) throw std::invalid_argument("more than 18 decimals");
  std::uint64_t power = 1;
  for (unsigned i = 0; i < exponent; ++i) power *= 10;
  return power;
}

std::uint64_t whole(std::string_view text) {
  std::uint64_t value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size()) {
    throw std::invalid_argument(fmt::format("`{}` is no whole number", text));
  }
  return value;
}

/// The exponent behind `e`, as the number of decimals it adds.
int decimals_of_exponent(std::string_view text) {
  int exponent = 0;
  if (!text.empty() && text.front() == '+') text.remove_prefix(1);
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), exponent);
  if (error != std::errc() || end != text.data() + text.size()) {
    throw std::invalid_argument(fmt::format("`{}` is no exponent", text));
  }
  return -exponent;
}

}  // namespace

Share share_from_decimal(std::string_view text) {
  int decimals = 0;
  if (const auto e = text.find('e'); e != std::string_view::npos) {
    decimals = decimals_of_exponent(text.substr(e + 1));
    text = text.substr(0, e);
  }
  std::string digits(text);
  if (const auto point = digits.find('.'); point != std::string::npos) {
    decimals += static_cast<int>(digits.size() - point - 1);
    digits.erase(point, 1);
  }
  if (decimals < 0) throw std::invalid_argument(fmt::format("`{}` is no share", text));
  return {whole(digits), power_of_ten(static_cast<unsigned>(decimals))};
}

Share share_from(double value) { return share_from_decimal(fmt::format("{}", value)); }

Share share_from_fraction(std::string_view text) {
  const auto slash = text.find('/');
  if (slash == std::string_view::npos) return share_from_decimal(text);
  return {whole(text.substr(0, slash)), whole(text.substr(slash + 1))};
}

Share with_otherwise(const Share& otherwise, const Share& link) {
  std::uint64_t total = 0;
  if (__builtin_mul_overflow(otherwise.total, link.total, &total)) {
    throw std::invalid_argument("the product of two shares has too many decimals");
  }
  const std::uint64_t absent = (otherwise.total - otherwise.hits) * (link.total - link.hits);
  return {total - absent, total};
}

std::string in_words(const Share& share) {
  return fmt::format("{} of {}", share.hits, share.total);
}

}  // namespace reference
