#include "facts/table_number.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <system_error>

#include "support/ascii.h"

namespace slipcase::facts {

namespace {

// 10^15 and all smaller powers are exact, and so is a whole number of 15 digits: their quotient is
// then rounded once (W. D. Clinger, How to read floating point numbers accurately, 1990).
constexpr std::size_t most_exact_digits = 15;
constexpr std::array<double, most_exact_digits + 1> powers{
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15};

/// Digits with at most one decimal sign among them; nothing where it is anything longer.
std::optional<double> plain_number(std::string_view text, char decimal) {
  std::uint64_t whole = 0;
  std::size_t digits = 0;
  std::size_t behind = 0;
  bool signed_once = false;
  for (const char c : text) {
    if (c == decimal && !signed_once) {
      signed_once = true;
      continue;
    }
    if (!is_digit(c) || ++digits > most_exact_digits) return std::nullopt;
    whole = 10 * whole + static_cast<std::uint64_t>(c - '0');
    if (signed_once) ++behind;
  }
  if (digits == 0) return std::nullopt;
  return static_cast<double>(whole) / powers[behind];
}

/// With an exponent, or with more digits.
std::optional<double> long_number(std::string_view text, char decimal) {
  std::array<char, 128> copy{};
  const bool begins_well = !text.empty() && (is_digit(text.front()) || text.front() == decimal);
  if (!begins_well || text.size() > copy.size()) return std::nullopt;
  if (decimal != '.' && text.find('.') != std::string_view::npos) return std::nullopt;
  std::replace_copy(text.begin(), text.end(), copy.begin(), decimal, '.');
  double value = 0.0;
  const char* end = copy.data() + text.size();
  const auto [stop, error] = std::from_chars(copy.data(), end, value);
  if (error != std::errc() || stop != end || !std::isfinite(value)) return std::nullopt;
  return value;
}

}  // namespace

std::optional<double> cell_number(std::string_view cell, char decimal) {
  if (cell.empty()) return std::nullopt;
  const bool negative = cell.front() == '-';
  if (negative || cell.front() == '+') cell.remove_prefix(1);
  auto value = plain_number(cell, decimal);
  if (!value) value = long_number(cell, decimal);
  if (value && negative) *value = -*value;
  return value;
}

}  // namespace slipcase::facts
