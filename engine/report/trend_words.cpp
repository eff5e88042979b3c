#include "report/trend_words.h"

#include <algorithm>
#include <cmath>

#include <fmt/core.h>

namespace slipcase::report {

std::string_view name_of(TrendShape shape) {
  switch (shape) {
    case TrendShape::too_few:
      return "too_few";
    case TrendShape::too_near:
      return "too_near";
    case TrendShape::flat:
      return "flat";
    case TrendShape::rising:
      return "rising";
    case TrendShape::falling:
      return "falling";
    case TrendShape::bending:
      return "bending";
    case TrendShape::step:
      return "step";
    case TrendShape::disorder:
      return "disorder";
    case TrendShape::unclear:
      return "unclear";
  }
  return "";
}

std::string_view name_of(Look look) {
  switch (look) {
    case Look::quiet:
      return "quiet";
    case Look::watch:
      return "watch";
    case Look::act:
      return "act";
  }
  return "";
}

std::string_view name_of(ChangePattern pattern) {
  switch (pattern) {
    case ChangePattern::none:
      return "none";
    case ChangePattern::one:
      return "one";
    case ChangePattern::several:
      return "several";
    case ChangePattern::all:
      return "all";
  }
  return "";
}

std::string_view name_of(ReadingRange range) {
  switch (range) {
    case ReadingRange::inside:
      return "inside";
    case ReadingRange::beyond_watch:
      return "beyond_watch";
    case ReadingRange::beyond_limit:
      return "beyond_limit";
  }
  return "";
}

std::string short_number(double number) {
  const double size = std::abs(number);
  const int decimals = size >= 9.95 || size < 0.005 ? 0 : (size >= 0.995 ? 1 : 2);
  std::string text = fmt::format("{:.{}f}", number, decimals);
  if (text.find('.') != std::string::npos) {
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
  }
  return text == "-0" ? "0" : text;
}

namespace {

/// The place of the second digit.
double grain(double distance) {
  return distance < 100.0 ? 10.0 : std::pow(10.0, std::floor(std::log10(distance)) - 1.0);
}

}  // namespace

std::string rounded_down(double distance) {
  return fmt::format("{:.0f}", std::floor(distance / grain(distance)) * grain(distance));
}

std::string rounded_up(double distance) {
  return fmt::format("{:.0f}", std::ceil(distance / grain(distance)) * grain(distance));
}

double three_digits_down(double distance) {
  if (distance < 100.0) return std::floor(distance / 10.0) * 10.0;
  const double unit = std::pow(10.0, std::floor(std::log10(distance)) - 2.0);
  return std::floor(distance / unit) * unit;
}

std::string with_blanks(std::string name) {
  std::ranges::replace(name, '_', ' ');
  return name;
}

}  // namespace slipcase::report
