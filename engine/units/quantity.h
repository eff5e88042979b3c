// Numbers that know what they measure, and the units people write.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "units/dimension.h"

namespace slipcase::units {

/// A value in the base unit of its dimension: mm, ms, Pa, °C, ml, mV, mA, mohm, rpm, kg/m3,
/// cents of money; plain numbers as they are (40 % is 0.4). The small base units keep what people
/// write
/// ("148200 km", "12 ms") whole, so that comparing with a limit never hangs on a rounding.
struct Quantity {
  double value = 0.0;
  Dimension dimension;

  friend constexpr bool operator==(const Quantity&, const Quantity&) = default;
};

/// A unit as people write it: value in base units = (number + offset) * numerator / denominator.
/// Numerator and denominator are whole where the definition allows it, so that 212 °F is 100 °C
/// exactly.
struct Unit {
  std::string_view symbol;  // the spelling we print
  Dimension dimension;
  double numerator = 1.0;
  double denominator = 1.0;
  double offset = 0.0;  // only for temperatures on the scale
};

/// A unit by any accepted spelling ("km", "miles", "mbar", "°C", "C", "ml", "rpm", "%", "h",
/// "hours"). Case matters where the trade means different things (mbar, Mbar). `minutes` is never
/// `min`.
[[nodiscard]] const Unit* find_unit(std::string_view spelling);
/// The same unit seen as a difference ("5 °C" warmer); null if it has no such reading.
[[nodiscard]] const Unit* difference_unit(const Unit& unit);
[[nodiscard]] std::span<const Unit> all_units();
/// Amounts of money have no unit of their own: the profile names the currency, a bare number is an
/// amount.
[[nodiscard]] const Unit& money_unit();
/// Every accepted spelling, for suggestions.
[[nodiscard]] const std::vector<std::string>& unit_spellings();
/// Spellings of the units of one dimension, for "write it in mbar, bar or psi".
[[nodiscard]] std::vector<std::string> spellings_of(const Dimension& dimension);

[[nodiscard]] Quantity to_quantity(double number, const Unit& unit);
[[nodiscard]] double in_unit(const Quantity& quantity, const Unit& unit);

/// For people: the unit that suits the size ("148200 km", "-15 mbar", "2 h 30 min" is "2.5 h"), the
/// shortest decimals that read back to the same value; where that takes more than 6 digits and the
/// number is not whole, 6 digits. A slope is "30 mbar per 1000 km". Plain numbers stand alone: pass
/// the unit `%` to see a share as one.
[[nodiscard]] std::string to_text(const Quantity& quantity);
[[nodiscard]] std::string to_text(const Quantity& quantity, const Unit& unit);

/// A finite decimal number: sign, digits, point, optional exponent. Nothing else: no "inf", no hex,
/// no "2,5". Correctly rounded.
[[nodiscard]] std::optional<double> parse_number(std::string_view text);

/// Why a text is not a quantity; the caller knows the place and the wording.
enum class QuantityProblem : std::uint8_t {
  empty,
  not_a_number,    // "high"
  decimal_comma,   // "2,5 bar"
  grouped_digits,  // "200 000 km", "91,400 miles"
  no_unit,         // "210"
  unknown_unit,    // "210 mbars"
  ambiguous_unit,  // "5 min", "1 month": says what to write instead
  not_finite,
};

struct QuantityParse {
  std::optional<Quantity> quantity;
  std::optional<QuantityProblem> problem;
  std::string_view unit_text;  // the part read as the unit, into the text that was given
  const Unit* unit = nullptr;
  std::string instead;  // what to write, where that is certain: "91400 miles", "5 minutes"
};

/// "210 mbar", "-15mbar", "94 °C", "40 %"; "30 mbar per 14000 miles" is not one (the language
/// builds that from two). `expected`, if given, decides between a temperature and a difference, and
/// lets a plain number or an amount of money stand without a unit. The caller compares the
/// dimensions.
[[nodiscard]] QuantityParse parse_quantity(std::string_view text,
                                           const std::optional<Dimension>& expected = {});

/// The problem in words, with what to write instead: "`5 min` can be read in two ways: write `5
/// minutes`".
[[nodiscard]] std::string describe(std::string_view text, const QuantityParse& parse,
                                   const std::optional<Dimension>& expected = {});

}  // namespace slipcase::units
