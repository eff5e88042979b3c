#include "units/quantity.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include <fmt/core.h>

#include "support/ascii.h"

namespace slipcase::units {

namespace {

constexpr int most_digits = 6;
constexpr double largest_whole = 1e15;

// Units for people, from small to large; the one a zero is shown in.
struct Ladder {
  Base base;
  std::string_view zero;
  std::array<std::string_view, 5> symbols;
};

constexpr std::array ladders{
    Ladder{Base::distance, "km", {"mm", "m", "km"}},
    Ladder{Base::duration, "s", {"ms", "s", "minutes", "h", "days"}},
    Ladder{Base::pressure, "mbar", {"mbar", "bar"}},
    Ladder{Base::temperature, "°C", {"°C"}},
    Ladder{Base::volume, "l", {"ml", "l"}},
    Ladder{Base::voltage, "V", {"mV", "V"}},
    Ladder{Base::current, "A", {"mA", "A"}},
    Ladder{Base::resistance, "ohm", {"mohm", "ohm", "kohm"}},
    Ladder{Base::rotation, "rpm", {"rpm"}},
    Ladder{Base::density, "kg/m3", {"kg/m3"}},
};

// The shortest decimals for which `reads_back(number)` holds; see to_text in the header.
template <typename ReadsBack>
std::string shortest(double number, const ReadsBack& reads_back) {
  double rounded = number;
  for (int digits = 0; digits < most_digits; ++digits) {
    rounded = parse_number(fmt::format("{:.{}e}", number, digits)).value_or(number);
    if (reads_back(rounded)) break;
  }
  const double whole = std::nearbyint(number);
  if (!reads_back(rounded) && std::abs(whole) < largest_whole && reads_back(whole)) rounded = whole;
  return fmt::format("{}", rounded + 0.0);  // adding 0 turns -0 into 0
}

std::string number_text(const Quantity& quantity, const Unit& unit) {
  return shortest(in_unit(quantity, unit),
                  [&](double number) { return to_quantity(number, unit).value == quantity.value; });
}

bool reads_back_shortly(const Quantity& quantity, const Unit& unit) {
  const auto number =
      parse_number(fmt::format("{:.{}e}", in_unit(quantity, unit), most_digits - 1));
  return number && to_quantity(*number, unit).value == quantity.value;
}

std::string_view symbol_behind(std::string_view number, const Unit& unit) {
  const bool plural = unit.symbol.size() > 3 && unit.symbol.ends_with('s');
  return number == "1" && plural ? unit.symbol.substr(0, unit.symbol.size() - 1) : unit.symbol;
}

const Unit& as_asked(const Unit& unit, const Dimension& dimension) {
  if (dimension.on_scale) return unit;
  const Unit* difference = difference_unit(unit);
  return difference != nullptr ? *difference : unit;
}

const Ladder* ladder_of(const Dimension& dimension) {
  const auto* found = std::find_if(ladders.begin(), ladders.end(), [&](const Ladder& ladder) {
    return of(ladder.base).exponents == dimension.exponents;
  });
  return found == ladders.end() ? nullptr : found;
}

// The largest unit of which there is at least one (two days). A duration goes down the ladder until
// few digits are enough: 100 h, not 4.16667 days.
const Unit& suitable(const Quantity& quantity, const Ladder& ladder) {
  if (quantity.value == 0.0) return as_asked(*find_unit(ladder.zero), quantity.dimension);
  const Unit* largest = nullptr;
  for (std::size_t i = ladder.symbols.size(); i-- > 0;) {
    if (ladder.symbols.at(i).empty()) continue;
    const Unit& unit = as_asked(*find_unit(ladder.symbols.at(i)), quantity.dimension);
    const double least = unit.symbol == "days" ? 2.0 : 1.0;
    const bool large_enough = std::abs(in_unit(quantity, unit)) >= least || i == 0;
    if (!large_enough) continue;
    if (largest == nullptr) largest = &unit;
    if (ladder.base != Base::duration || reads_back_shortly(quantity, unit)) return unit;
  }
  return *largest;
}

struct Part {
  std::string text;
  double size = 1.0;
};

// A unit within "2.1 mbar per 1000 km", for which nobody has a unit by itself.
Part part_of_compound(std::size_t base, bool under) {
  const Ladder* ladder = ladder_of(of(static_cast<Base>(base)));
  if (ladder == nullptr) return {"money", money_unit().numerator};
  if (under && ladder->base == Base::distance) return {"1000 km", 1e9};
  const Unit& unit = *find_unit(under && ladder->base == Base::duration ? "h" : ladder->zero);
  return {std::string(unit.symbol), unit.numerator};
}

std::string compound_text(const Quantity& quantity) {
  double factor = 1.0;
  std::string over;
  std::string under;
  for (std::size_t base = 0; base < base_count; ++base) {
    const int power = quantity.dimension.exponents.at(base);
    const Part part = part_of_compound(base, power < 0);
    for (int i = 0; i < std::abs(power); ++i) {
      factor = power > 0 ? factor / part.size : factor * part.size;
      if (power > 0) over += " " + part.text;
      if (power < 0) under += " per " + part.text;
    }
  }
  const auto reads_back = [&](double number) { return number / factor == quantity.value; };
  return shortest(quantity.value * factor, reads_back) + over + under;
}

}  // namespace

Quantity to_quantity(double number, const Unit& unit) {
  return {(number + unit.offset) * unit.numerator / unit.denominator, unit.dimension};
}

double in_unit(const Quantity& quantity, const Unit& unit) {
  return quantity.value * unit.denominator / unit.numerator - unit.offset;
}

std::string to_text(const Quantity& quantity, const Unit& unit) {
  const std::string number = number_text(quantity, unit);
  const std::string_view symbol = symbol_behind(number, unit);
  return symbol.empty() ? number : fmt::format("{} {}", number, symbol);
}

std::string to_text(const Quantity& quantity) {
  const Dimension& dimension = quantity.dimension;
  if (dimension == plain_number()) {
    return shortest(quantity.value, [&](double number) { return number == quantity.value; });
  }
  if (dimension == money_unit().dimension) return to_text(quantity, money_unit());
  if (dimension == find_unit("km/h")->dimension) return to_text(quantity, *find_unit("km/h"));
  const Ladder* ladder = ladder_of(dimension);
  return ladder != nullptr ? to_text(quantity, suitable(quantity, *ladder))
                           : compound_text(quantity);
}

std::optional<double> parse_number(std::string_view text) {
  std::string_view rest = text;
  if (rest.starts_with('+')) rest.remove_prefix(1);
  const std::string_view digits =
      rest.starts_with('-') ? rest.substr(text[0] == '+' ? 0 : 1) : rest;
  if (digits.empty() || !is_digit(digits.front()) || !is_digit(digits.back())) return std::nullopt;
  // from_chars takes `1.e5`; a point stands between digits here.
  const std::size_t point = digits.find('.');
  if (point != std::string_view::npos && !is_digit(digits[point + 1])) return std::nullopt;
  double value = 0.0;
  const char* end = rest.data() + rest.size();
  const auto [stop, problem] = std::from_chars(rest.data(), end, value, std::chars_format::general);
  if (problem != std::errc{} || stop != end || !std::isfinite(value)) return std::nullopt;
  return value;
}

}  // namespace slipcase::units
