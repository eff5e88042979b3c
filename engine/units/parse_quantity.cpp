// Reading "210 mbar", and telling people what to write instead of what they wrote.
#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include <fmt/core.h>

#include "support/ascii.h"
#include "support/suggest.h"
#include "units/quantity.h"

namespace slipcase::units {

namespace {

// Length of the blank at the start: space, tab, no-break space, narrow no-break space, thin space.
std::size_t blank_length(std::string_view text) {
  constexpr std::array<std::string_view, 5> blanks{" ", "\t", "\u00A0", "\u202F", "\u2009"};
  for (const std::string_view blank : blanks) {
    if (text.starts_with(blank)) return blank.size();
  }
  return 0;
}

std::size_t blanks_length(std::string_view text) {
  std::size_t length = 0;
  while (const std::size_t one = blank_length(text.substr(length))) length += one;
  return length;
}

std::string_view trimmed(std::string_view text) {
  text.remove_prefix(blanks_length(text));
  std::size_t end = 0;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t blank = blank_length(text.substr(at));
    at += blank > 0 ? blank : 1;
    if (blank == 0) end = at;
  }
  return text.substr(0, end);
}

std::size_t digits_length(std::string_view text) {
  std::size_t length = 0;
  while (length < text.size() && is_digit(text[length])) ++length;
  return length;
}

// A minus as typed, as a word processor makes it, and as a phone makes it.
std::size_t sign_length(std::string_view text) {
  constexpr std::array<std::string_view, 4> signs{"+", "-", "\u2212", "\u2013"};
  for (const std::string_view sign : signs) {
    if (text.starts_with(sign)) return sign.size();
  }
  return 0;
}

// What may stand between digits in some country: 91,400 91.400 91'400 91_400 and 91 400.
std::size_t separator_length(std::string_view text) {
  constexpr std::array<std::string_view, 5> separators{".", ",", "'", "_", "\u2019"};
  for (const std::string_view separator : separators) {
    const bool before_digit =
        digits_length(text.substr(std::min(separator.size(), text.size()))) > 0;
    if (text.starts_with(separator) && before_digit) return separator.size();
  }
  const std::size_t blanks = blanks_length(text);
  return blanks > 0 && digits_length(text.substr(blanks)) == 3 ? blanks : 0;
}

std::size_t exponent_length(std::string_view text) {
  if (!text.starts_with('e') && !text.starts_with('E')) return 0;
  const std::size_t sign = text.size() > 1 && (text[1] == '-' || text[1] == '+') ? 1 : 0;
  const std::size_t digits = digits_length(text.substr(1 + sign));
  return digits > 0 ? 1 + sign + digits : 0;
}

// The number as it was written, cut at its separators: "1.234,5" is 1 . 234 , 5
struct WrittenNumber {
  bool negative = false;
  std::vector<std::string_view> groups;
  std::vector<std::string_view> separators;  // one fewer than groups
  std::string_view exponent;
  std::size_t length = 0;
};

WrittenNumber scan_number(std::string_view text) {
  WrittenNumber number;
  std::size_t at = sign_length(text);
  number.negative = at > 0 && text[0] != '+';
  while (const std::size_t digits = digits_length(text.substr(at))) {
    number.groups.push_back(text.substr(at, digits));
    at += digits;
    const std::size_t separator = separator_length(text.substr(at));
    if (separator == 0) break;
    number.separators.push_back(text.substr(at, separator));
    at += separator;
  }
  const std::size_t exponent = number.groups.empty() ? 0 : exponent_length(text.substr(at));
  number.exponent = text.substr(at, exponent);
  number.length = at + exponent;
  return number;
}

std::string joined(const WrittenNumber& number, bool last_is_fraction) {
  std::string text = number.negative ? "-" : "";
  for (std::size_t i = 0; i < number.groups.size(); ++i) {
    if (last_is_fraction && i > 0 && i + 1 == number.groups.size()) text += '.';
    text += number.groups[i];
  }
  return text.append(number.exponent);
}

// All groups behind the first have three digits, up to the one given.
bool in_thousands(const WrittenNumber& number, std::size_t end) {
  if (number.groups.front().size() > 3) return false;
  return std::all_of(number.groups.begin() + 1,
                     number.groups.begin() + static_cast<std::ptrdiff_t>(end),
                     [](std::string_view group) { return group.size() == 3; });
}

// Why a number with separators is not one, and how it should have been written.
std::pair<QuantityProblem, std::string> misread(const WrittenNumber& number) {
  const std::size_t count = number.groups.size();
  const bool one_kind = std::all_of(
      number.separators.begin(), number.separators.end(),
      [&](std::string_view separator) { return separator == number.separators.front(); });
  if (one_kind && in_thousands(number, count)) {
    return {QuantityProblem::grouped_digits, joined(number, false)};
  }
  const bool last_is_comma = number.separators.back() == ",";
  const bool last_is_point = number.separators.back() == ".";
  if ((last_is_comma && count == 2) ||
      ((last_is_comma || last_is_point) && in_thousands(number, count - 1))) {
    return {last_is_comma ? QuantityProblem::decimal_comma : QuantityProblem::grouped_digits,
            joined(number, true)};
  }
  return {QuantityProblem::not_a_number, {}};
}

bool is_plain(const WrittenNumber& number) {
  return number.separators.empty() ||
         (number.separators.size() == 1 && number.separators[0] == ".");
}

bool names_no_number(std::string_view text) {
  text.remove_prefix(sign_length(text));
  if (text.starts_with('.')) text.remove_prefix(1);
  std::string word;
  for (const char c : text.substr(0, 8)) {
    if (c == ' ') break;
    word += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  }
  return word == "nan" || word == "inf" || word == "infinity";
}

// Words that are read differently by different people, or have no fixed length.
struct Ambiguous {
  std::string_view word;
  std::string_view instead;
  double factor;
};
constexpr std::array ambiguous_units{
    Ambiguous{"min", "minutes", 1}, Ambiguous{"mins", "minutes", 1},
    Ambiguous{"month", "days", 30}, Ambiguous{"months", "days", 30},
    Ambiguous{"year", "days", 365}, Ambiguous{"years", "days", 365},
};

const Ambiguous* find_ambiguous(std::string_view word) {
  const auto* found = std::find_if(ambiguous_units.begin(), ambiguous_units.end(),
                                   [word](const Ambiguous& unit) { return unit.word == word; });
  return found == ambiguous_units.end() ? nullptr : found;
}

bool equal_but_capitals(std::string_view a, std::string_view b) {
  const auto small = [](char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  };
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [&](char x, char y) { return small(x) == small(y); });
}

// "KM" was meant as "km"; nothing where capitals tell two units apart ("MV").
std::string in_right_capitals(std::string_view unit_text) {
  const Unit* meant = nullptr;
  for (const std::string& spelling : unit_spellings()) {
    if (!equal_but_capitals(spelling, unit_text)) continue;
    const Unit* unit = find_unit(spelling);
    if (meant != nullptr && meant != unit) return {};
    meant = unit;
  }
  return meant == nullptr ? "" : std::string(meant->symbol);
}

bool may_stand_alone(const std::optional<Dimension>& expected) {
  return expected && (*expected == plain_number() || *expected == money_unit().dimension);
}

QuantityParse failed(QuantityProblem problem, std::string_view unit_text = {},
                     std::string instead = {}) {
  QuantityParse parse;
  parse.problem = problem;
  parse.unit_text = unit_text;
  parse.instead = std::move(instead);
  return parse;
}

QuantityParse with_value(const Quantity& quantity, std::string_view unit_text, const Unit* unit) {
  if (!std::isfinite(quantity.value)) return failed(QuantityProblem::not_finite, unit_text);
  QuantityParse parse;
  parse.quantity = quantity;
  parse.unit_text = unit_text;
  parse.unit = unit;
  return parse;
}

QuantityParse with_unit(double number, std::string_view unit_text,
                        const std::optional<Dimension>& expected) {
  if (const Ambiguous* ambiguous = find_ambiguous(unit_text)) {
    return failed(QuantityProblem::ambiguous_unit, unit_text,
                  fmt::format("{} {}", number * ambiguous->factor, ambiguous->instead));
  }
  const Unit* unit = find_unit(unit_text);
  if (unit == nullptr) {
    const std::string meant = in_right_capitals(unit_text);
    return failed(QuantityProblem::unknown_unit, unit_text,
                  meant.empty() ? "" : fmt::format("{} {}", number, meant));
  }
  if (expected == temperature_difference()) unit = difference_unit(*unit);
  return with_value(to_quantity(number, *unit), unit_text, unit);
}

std::string unit_hint(const std::optional<Dimension>& expected) {
  if (!expected) return "write the unit behind the number, such as `210 mbar` or `148200 km`";
  const auto spellings = spellings_of(*expected);
  if (spellings.empty()) return "write a plain number";
  return "write it in " + quoted_list(spellings);
}

}  // namespace

QuantityParse parse_quantity(std::string_view text, const std::optional<Dimension>& expected) {
  text = trimmed(text);
  if (text.empty()) return failed(QuantityProblem::empty);
  const WrittenNumber written = scan_number(text);
  if (written.groups.empty()) {
    return failed(names_no_number(text) ? QuantityProblem::not_finite
                                        : QuantityProblem::not_a_number);
  }
  const std::string_view unit_text = trimmed(text.substr(written.length));
  if (!is_plain(written)) {
    auto [problem, number] = misread(written);
    if (!number.empty() && !unit_text.empty()) number += fmt::format(" {}", unit_text);
    return failed(problem, unit_text, std::move(number));
  }
  const auto number = parse_number(joined(written, !written.separators.empty()));
  if (!number) return failed(QuantityProblem::not_finite, unit_text);
  if (!unit_text.empty()) return with_unit(*number, unit_text, expected);
  if (!may_stand_alone(expected)) return failed(QuantityProblem::no_unit);
  if (*expected == plain_number()) return with_value({*number, plain_number()}, {}, nullptr);
  return with_value(to_quantity(*number, money_unit()), {}, &money_unit());
}

std::string describe(std::string_view text, const QuantityParse& parse,
                     const std::optional<Dimension>& expected) {
  switch (parse.problem.value_or(QuantityProblem::empty)) {
    case QuantityProblem::empty:
      return "a number with its unit is missing: " + unit_hint(expected);
    case QuantityProblem::not_a_number:
      return fmt::format("`{}` is not a number with a unit: {}", text, unit_hint(expected));
    case QuantityProblem::decimal_comma:
      return fmt::format("`{}` has a decimal comma: write `{}`", text, parse.instead);
    case QuantityProblem::grouped_digits:
      return fmt::format("`{}` has its digits in groups: write `{}`", text, parse.instead);
    case QuantityProblem::no_unit:
      return fmt::format("`{}` has no unit: {}", text, unit_hint(expected));
    case QuantityProblem::unknown_unit: {
      if (!parse.instead.empty()) {
        return fmt::format("`{}` is not a known unit: write `{}`", parse.unit_text, parse.instead);
      }
      const std::string meant = did_you_mean(parse.unit_text, unit_spellings());
      return fmt::format("`{}` is not a known unit{}", parse.unit_text,
                         meant.empty() ? ": " + unit_hint(expected) : meant);
    }
    case QuantityProblem::ambiguous_unit: {
      const bool minutes = parse.unit_text.starts_with("min");
      return fmt::format("`{}` {}: write `{}`", text,
                         minutes ? "can be read in two ways" : "has no fixed length",
                         parse.instead);
    }
    case QuantityProblem::not_finite:
      return fmt::format("`{}` is not a finite number", text);
  }
  return {};
}

}  // namespace slipcase::units
