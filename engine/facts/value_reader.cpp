// Quantities, dates, numbers and yes or no in a document, each with what to write instead.

#include <algorithm>

#include <fmt/core.h>

#include "facts/document_messages.h"
#include "facts/node_reader.h"
#include "support/suggest.h"
#include "units/count.h"

namespace slipcase::facts {

namespace {

using units::QuantityProblem;

const Message& message_for(QuantityProblem problem) {
  switch (problem) {
    case QuantityProblem::no_unit:
      return unit_missing;
    case QuantityProblem::unknown_unit:
      return unit_unknown;
    case QuantityProblem::ambiguous_unit:
      return unit_shape;
    case QuantityProblem::not_finite:
      return number_not_finite;
    case QuantityProblem::empty:
    case QuantityProblem::not_a_number:
    case QuantityProblem::decimal_comma:
    case QuantityProblem::grouped_digits:
      break;
  }
  return number_shape;
}

void report_wrong_unit(const Scalar& scalar, const units::Dimension& found,
                       const units::Dimension& expected, Diagnostics& diagnostics) {
  const auto spellings = units::spellings_of(expected);
  diagnostics.add(unit_wrong, scalar.place,
                  fmt::format("`{}` is a {}, a {} is expected{}", scalar.text,
                              units::describe(found), units::describe(expected),
                              spellings.empty() ? "" : ": write it in " + quoted_list(spellings)));
}

// "2031-02-30": how many days that month has.
std::string why_no_such_day(std::string_view text) {
  const auto month_text = std::string(text.substr(0, 8)) + "01";
  const auto first = units::Date::parse(month_text);
  if (!first) return fmt::format("there is no month {}", text.substr(5, 2));
  for (int day = 31; day >= 28; --day) {
    const auto last = fmt::format("{}{}", text.substr(0, 8), day);
    if (units::Date::parse(last)) return fmt::format("that month ends with {}", last);
  }
  return {};
}

// The digits at the start of `text`, taken off it.
std::string_view take_digits(std::string_view& text) {
  const std::size_t end = std::min(text.find_first_not_of("0123456789"), text.size());
  const std::string_view digits = text.substr(0, end);
  text.remove_prefix(end);
  return digits;
}

// Year, month and day with one sign between them; `rest` is what stands behind.
std::optional<std::string> in_two_digits(std::string_view text, std::string_view& rest) {
  rest = text;
  const std::string_view year = take_digits(rest);
  const char sign = rest.empty() ? ' ' : rest.front();
  if (year.size() != 4 || (sign != '-' && sign != '/' && sign != '.')) return std::nullopt;
  rest.remove_prefix(1);
  const std::string_view month = take_digits(rest);
  if (!rest.starts_with(sign)) return std::nullopt;
  rest.remove_prefix(1);
  const std::string_view day = take_digits(rest);
  const auto fits = [](std::string_view digits) {
    return digits.size() == 1 || digits.size() == 2;
  };
  if (!fits(month) || !fits(day)) return std::nullopt;
  return fmt::format("{}-{:0>2}-{:0>2}", year, month, day);
}

constexpr std::string_view day_example = "year-month-day, such as `2031-04-22`";

// "2031-4-7 14:30" as it should be written, where it is clear what is meant.
std::optional<std::string> date_meant(std::string_view text, bool with_time) {
  const auto day = year_first(text.substr(0, text.find(' ')));
  if (!day || !with_time || text.find(' ') == std::string_view::npos) return day;
  const std::string moment = *day + std::string(text.substr(text.find(' ')));
  return units::Moment::parse(moment) ? moment : *day;
}

// `with_time`: a time may stand behind the day.
void report_date(const Scalar& scalar, bool with_time, Diagnostics& diagnostics) {
  const std::string_view text = scalar.text;
  const std::string_view day = text.substr(0, 10);
  const auto say = [&](const Message& message, std::string_view wording) {
    diagnostics.add(message, scalar.place, wording);
  };
  if (units::is_date_shaped(day) && !units::Date::parse(day)) {
    say(no_such_day, fmt::format("there is no day `{}`: {}", day, why_no_such_day(text)));
  } else if (units::is_date_shaped(day)) {
    say(no_such_time, with_time
                          ? fmt::format("`{}` has no time that can be read: write it behind one "
                                        "blank, from 00:00 to 23:59, as in `{} 14:30`",
                                        text, day)
                          : fmt::format("`{}` is more than a day: write `{}`", text, day));
  } else if (const auto meant = date_meant(text, with_time)) {
    say(date_shape, fmt::format("`{}` is not written as a date is: write `{}`", text, *meant));
  } else if (!units::looks_like_other_date(text)) {
    say(date_shape, fmt::format("`{}` is not a date: write {}", text, day_example));
  } else if (text.find_first_of("0123456789") == 0) {
    say(date_shape,
        fmt::format("`{}` can be read in more than one way: write {}", text, day_example));
  } else {
    say(not_a_day,
        fmt::format("`{}` is no day: write the latest day it can be, or the odometer; left "
                    "out it is unknown",
                    text));
  }
}

}  // namespace

std::optional<units::Quantity> read_quantity(const Scalar& scalar, const units::Dimension& expected,
                                             Diagnostics& diagnostics) {
  const units::QuantityParse parse = units::parse_quantity(scalar.text, expected);
  if (!parse.quantity) {
    diagnostics.add(message_for(*parse.problem), scalar.place,
                    units::describe(scalar.text, parse, expected));
    return std::nullopt;
  }
  if (parse.quantity->dimension == expected) return parse.quantity;
  report_wrong_unit(scalar, parse.quantity->dimension, expected, diagnostics);
  return std::nullopt;
}

std::optional<units::Quantity> read_quantity(const Node& node, const units::Dimension& expected,
                                             Diagnostics& diagnostics) {
  const auto scalar =
      read_scalar(node, fmt::format("a {}", units::describe(expected)), diagnostics);
  if (!scalar) return std::nullopt;
  return read_quantity(*scalar, expected, diagnostics);
}

std::optional<units::Quantity> read_distance_or_time(const Scalar& scalar,
                                                     Diagnostics& diagnostics) {
  const units::Dimension distance = units::of(units::Base::distance);
  const units::Dimension time = units::of(units::Base::duration);
  constexpr std::string_view hint =
      "write a distance such as `300 km`, or a time such as `30 days`";
  const units::QuantityParse parse = units::parse_quantity(scalar.text);
  if (!parse.quantity) {
    // What a distance is written in is only half of what may stand here.
    std::string text = units::describe(scalar.text, parse, distance);
    const std::string half = "write it in " + quoted_list(units::spellings_of(distance));
    if (text.ends_with(half)) text.replace(text.size() - half.size(), half.size(), hint);
    diagnostics.add(message_for(*parse.problem), scalar.place, text);
    return std::nullopt;
  }
  if (parse.quantity->dimension != distance && parse.quantity->dimension != time) {
    diagnostics.add(unit_wrong, scalar.place,
                    fmt::format("`{}` is a {}: {}", scalar.text,
                                units::describe(parse.quantity->dimension), hint));
    return std::nullopt;
  }
  if (parse.quantity->value >= 0.0) return parse.quantity;
  diagnostics.add(number_range, scalar.place, fmt::format("`{}` is below zero", scalar.text));
  return std::nullopt;
}

std::optional<std::string> year_first(std::string_view text) {
  std::string_view rest;
  const auto day = in_two_digits(text, rest);
  return day && rest.empty() && units::Date::parse(*day) ? day : std::nullopt;
}

std::optional<units::Date> read_date(const Node& node, Diagnostics& diagnostics) {
  const auto scalar = read_scalar(node, "a date", diagnostics);
  if (!scalar) return std::nullopt;
  const auto date = units::Date::parse(scalar->text);
  if (!date) report_date(*scalar, false, diagnostics);
  return date;
}

std::optional<units::Moment> read_moment(const Node& node, Diagnostics& diagnostics) {
  const auto scalar = read_scalar(node, "a date", diagnostics);
  if (!scalar) return std::nullopt;
  const auto moment = units::Moment::parse(scalar->text);
  if (!moment) report_date(*scalar, true, diagnostics);
  return moment;
}

std::optional<std::uint64_t> read_whole_number(const Node& node, Diagnostics& diagnostics) {
  const auto scalar = read_scalar(node, "a whole number", diagnostics);
  if (!scalar) return std::nullopt;
  std::uint64_t value = 0;
  const bool digits =
      !scalar->text.empty() && scalar->text.find_first_not_of("0123456789") == std::string::npos;
  for (const char c : scalar->text) {
    if (digits && value <= units::largest_count)
      value = value * 10 + static_cast<std::uint64_t>(c - '0');
  }
  if (digits && value <= units::largest_count) return value;
  diagnostics.add(
      digits ? number_range : number_shape, scalar->place,
      fmt::format("`{}` is not a whole number from 0 to 10^18, written with digits only",
                  scalar->text));
  return std::nullopt;
}

std::optional<double> read_number(const Node& node, Diagnostics& diagnostics) {
  const auto quantity = read_quantity(node, units::plain_number(), diagnostics);
  if (!quantity) return std::nullopt;
  return quantity->value;
}

std::optional<bool> read_yes_no(const Node& node, std::string_view what, Diagnostics& diagnostics) {
  const auto scalar = read_scalar(node, what, diagnostics);
  if (!scalar) return std::nullopt;
  if (says_yes(scalar->text)) return true;
  if (says_no(scalar->text)) return false;
  diagnostics.add(yes_or_no, scalar->place,
                  fmt::format("`{}` is neither `yes` nor `no`, as {} must be", scalar->text, what));
  return std::nullopt;
}

}  // namespace slipcase::facts
