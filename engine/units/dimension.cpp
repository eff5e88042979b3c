#include "units/dimension.h"

#include <algorithm>
#include <utility>

namespace slipcase::units {

namespace {

constexpr std::array<std::string_view, base_count> base_names{
    "distance", "duration",   "pressure", "temperature", "volume", "voltage",
    "current",  "resistance", "rotation", "money",       "density"};

struct NamedDimension {
  std::string_view name;
  Dimension dimension;
};

// The words of the rule language. A share and a count are both plain numbers.
constexpr std::array named_dimensions{
    NamedDimension{"pressure", of(Base::pressure)},
    NamedDimension{"duration", of(Base::duration)},
    NamedDimension{"time", of(Base::duration)},
    NamedDimension{"distance", of(Base::distance)},
    NamedDimension{"temperature", temperature()},
    NamedDimension{"temperature difference", temperature_difference()},
    NamedDimension{"volume", of(Base::volume)},
    NamedDimension{"voltage", of(Base::voltage)},
    NamedDimension{"current", of(Base::current)},
    NamedDimension{"resistance", of(Base::resistance)},
    NamedDimension{"rotation", of(Base::rotation)},
    NamedDimension{"speed", speed()},
    NamedDimension{"share", plain_number()},
    NamedDimension{"count", plain_number()},
    NamedDimension{"number", plain_number()},
    NamedDimension{"money", of(Base::money)},
    NamedDimension{"density", of(Base::density)},
};

std::string_view name_of(std::size_t base, const Dimension& dimension) {
  const bool warmth = base == static_cast<std::size_t>(Base::temperature);
  return warmth && !dimension.on_scale ? "temperature difference" : base_names.at(base);
}

void add_factor(std::string& text, std::string_view name, int power) {
  for (int i = 0; i < power; ++i) {
    if (!text.empty()) text += " times ";
    text += name;
  }
}

}  // namespace

Dimension quotient(const Dimension& over, const Dimension& under) {
  Dimension result;
  for (std::size_t i = 0; i < base_count; ++i) {
    const int power = over.exponents.at(i) - under.exponents.at(i);
    result.exponents.at(i) = static_cast<std::int8_t>(std::clamp(power, -100, 100));
  }
  return result;
}

std::optional<Dimension> difference(const Dimension& a, const Dimension& b) {
  if (a.exponents != b.exponents) return std::nullopt;
  if (a.on_scale && b.on_scale) return temperature_difference();
  if (!a.on_scale && b.on_scale) return std::nullopt;
  return a;
}

std::string describe(const Dimension& dimension) {
  if (dimension == plain_number()) return "plain number";
  if (dimension == speed()) return "speed";
  std::string over;
  std::string under;
  for (std::size_t i = 0; i < base_count; ++i) {
    const int power = dimension.exponents.at(i);
    add_factor(power > 0 ? over : under, name_of(i, dimension), power > 0 ? power : -power);
  }
  if (under.empty()) return over;
  return (over.empty() ? "number" : over) + " per " + under;
}

std::optional<Dimension> dimension_named(std::string_view name) {
  const auto found = std::find_if(named_dimensions.begin(), named_dimensions.end(),
                                  [name](const NamedDimension& d) { return d.name == name; });
  if (found == named_dimensions.end()) return std::nullopt;
  return found->dimension;
}

const std::vector<std::string>& dimension_names() {
  static const std::vector<std::string> names = [] {
    std::vector<std::string> all;
    for (const NamedDimension& d : named_dimensions) all.emplace_back(d.name);
    return all;
  }();
  return names;
}

}  // namespace slipcase::units
