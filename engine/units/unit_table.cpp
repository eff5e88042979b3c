// The units and every accepted spelling. Factors: NIST SP 811 (2008), appendix B; they are exact by
// definition (1 in = 25.4 mm, 1 mi = 1609.344 m, 1 psi = 4.4482216152605 N per 6.4516 cm2, 1 US
// quart = 57.75 in3, 1 inHg by 13595.1 kg/m3 and 9.80665 m/s2).
#include <algorithm>
#include <array>
#include <utility>

#include "units/quantity.h"

namespace slipcase::units {

namespace {

constexpr std::array units{
    Unit{"mm", of(Base::distance)},
    Unit{"cm", of(Base::distance), 10},
    Unit{"m", of(Base::distance), 1'000},
    Unit{"km", of(Base::distance), 1'000'000},
    Unit{"in", of(Base::distance), 127, 5},
    Unit{"ft", of(Base::distance), 1'524, 5},
    Unit{"miles", of(Base::distance), 1'609'344},
    Unit{"ms", of(Base::duration)},
    Unit{"s", of(Base::duration), 1'000},
    Unit{"minutes", of(Base::duration), 60'000},
    Unit{"h", of(Base::duration), 3'600'000},
    Unit{"days", of(Base::duration), 86'400'000},
    Unit{"weeks", of(Base::duration), 604'800'000},
    Unit{"Pa", of(Base::pressure)},
    Unit{"mbar", of(Base::pressure), 100},
    Unit{"kPa", of(Base::pressure), 1'000},
    Unit{"bar", of(Base::pressure), 100'000},
    Unit{"psi", of(Base::pressure), 44'482'216'152'605, 6'451'600'000},
    Unit{"inHg", of(Base::pressure), 3'386'388'640'341, 1'000'000'000},
    Unit{"°C", temperature()},
    Unit{"°F", temperature(), 5, 9, -32},
    Unit{"K", temperature_difference()},
    Unit{"ml", of(Base::volume)},
    Unit{"l", of(Base::volume), 1'000},
    Unit{"quarts", of(Base::volume), 946'352'946, 1'000'000},
    Unit{"mV", of(Base::voltage)},
    Unit{"V", of(Base::voltage), 1'000},
    Unit{"mA", of(Base::current)},
    Unit{"A", of(Base::current), 1'000},
    Unit{"mohm", of(Base::resistance)},
    Unit{"ohm", of(Base::resistance), 1'000},
    Unit{"kohm", of(Base::resistance), 1'000'000},
    Unit{"rpm", of(Base::rotation)},
    Unit{"m/s", speed()},
    Unit{"km/h", speed(), 5, 18},
    Unit{"mph", speed(), 1'397, 3'125},
    Unit{"kg/m3", of(Base::density)},
    Unit{"kg/l", of(Base::density), 1'000},
    Unit{"g/ml", of(Base::density), 1'000},
    Unit{"%", plain_number(), 1, 100},
};

constexpr std::array difference_units{
    Unit{"°C", temperature_difference()},
    Unit{"°F", temperature_difference(), 5, 9},
};

constexpr Unit money{"", of(Base::money), 100};

// Other spelling, and the symbol it stands for.
using Spelling = std::pair<std::string_view, std::string_view>;
constexpr std::array other_spellings{
    Spelling{"millimetres", "mm"},
    Spelling{"millimeters", "mm"},
    Spelling{"inch", "in"},
    Spelling{"inches", "in"},
    Spelling{"feet", "ft"},
    Spelling{"foot", "ft"},
    Spelling{"mile", "miles"},
    Spelling{"mi", "miles"},
    Spelling{"sec", "s"},
    Spelling{"second", "s"},
    Spelling{"seconds", "s"},
    Spelling{"minute", "minutes"},
    Spelling{"hour", "h"},
    Spelling{"hours", "h"},
    Spelling{"day", "days"},
    Spelling{"week", "weeks"},
    Spelling{"C", "°C"},
    Spelling{"F", "°F"},
    Spelling{"℃", "°C"},
    Spelling{"℉", "°F"},
    Spelling{"ºC", "°C"},
    Spelling{"ºF", "°F"},
    Spelling{"mL", "ml"},
    Spelling{"L", "l"},
    Spelling{"litre", "l"},
    Spelling{"litres", "l"},
    Spelling{"liter", "l"},
    Spelling{"liters", "l"},
    Spelling{"qt", "quarts"},
    Spelling{"quart", "quarts"},
    // The Greek letter and the ohm sign look alike and are two characters.
    Spelling{"m\u03A9", "mohm"},
    Spelling{"\u03A9", "ohm"},
    Spelling{"k\u03A9", "kohm"},
    Spelling{"m\u2126", "mohm"},
    Spelling{"\u2126", "ohm"},
    Spelling{"k\u2126", "kohm"},
    Spelling{"ohms", "ohm"},
    Spelling{"1/min", "rpm"},
    Spelling{"kmh", "km/h"},
    Spelling{"kph", "km/h"},
    Spelling{"kg/m\u00B3", "kg/m3"},
    Spelling{"g/cm3", "g/ml"},
    Spelling{"g/cm\u00B3", "g/ml"},
    Spelling{"percent", "%"},
};

const Unit* with_symbol(std::string_view symbol) {
  const auto* found = std::find_if(units.begin(), units.end(),
                                   [symbol](const Unit& unit) { return unit.symbol == symbol; });
  return found == units.end() ? nullptr : found;
}

}  // namespace

const Unit* find_unit(std::string_view spelling) {
  const auto* other =
      std::find_if(other_spellings.begin(), other_spellings.end(),
                   [spelling](const Spelling& known) { return known.first == spelling; });
  return with_symbol(other == other_spellings.end() ? spelling : other->second);
}

const Unit* difference_unit(const Unit& unit) {
  if (!unit.dimension.on_scale) return &unit;
  const auto* found =
      std::find_if(difference_units.begin(), difference_units.end(),
                   [&unit](const Unit& known) { return known.symbol == unit.symbol; });
  return found == difference_units.end() ? nullptr : found;
}

std::span<const Unit> all_units() { return units; }

const Unit& money_unit() { return money; }

const std::vector<std::string>& unit_spellings() {
  static const std::vector<std::string> spellings = [] {
    std::vector<std::string> all;
    for (const Unit& unit : units) all.emplace_back(unit.symbol);
    for (const Spelling& known : other_spellings) all.emplace_back(known.first);
    return all;
  }();
  return spellings;
}

std::vector<std::string> spellings_of(const Dimension& dimension) {
  std::vector<std::string> spellings;
  for (const Unit& unit : units) {
    if (unit.dimension == dimension) spellings.emplace_back(unit.symbol);
  }
  if (dimension == temperature_difference()) {
    for (const Unit& unit : difference_units) spellings.emplace_back(unit.symbol);
  }
  return spellings;
}

}  // namespace slipcase::units
