#include "units/trouble_code.h"

#include <fmt/core.h>

namespace slipcase::units {

namespace {

constexpr std::string_view letters = "PCBU";

char to_capital(char c) { return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c; }

std::optional<unsigned> hexadecimal(char c) {
  constexpr std::string_view digits = "0123456789ABCDEF";
  const std::size_t value = digits.find(to_capital(c));
  if (value == std::string_view::npos) return std::nullopt;
  return static_cast<unsigned>(value);
}

}  // namespace

std::optional<TroubleCode> TroubleCode::parse(std::string_view text) {
  if (text.size() != 5 || text[1] < '0' || text[1] > '3') return std::nullopt;
  const std::size_t letter = letters.find(to_capital(text[0]));
  if (letter == std::string_view::npos) return std::nullopt;
  unsigned bits = static_cast<unsigned>(letter) << 2U | static_cast<unsigned>(text[1] - '0');
  for (const char c : text.substr(2)) {
    const auto digit = hexadecimal(c);
    if (!digit) return std::nullopt;
    bits = bits << 4U | *digit;
  }
  return TroubleCode(static_cast<std::uint16_t>(bits));
}

std::string TroubleCode::text() const {
  const unsigned bits = bits_;
  return fmt::format("{}{}{:03X}", letters[bits >> 14U], bits >> 12U & 3U, bits & 0xFFFU);
}

// SAE J2012 / ISO 15031-6. The split of P3 at P3400 was checked against lists of defined codes
// only; U3 is reserved with a few standard codes in it.
CodeAuthority authority(TroubleCode code) {
  const unsigned letter = code.bits() >> 14U;
  const unsigned digit = code.bits() >> 12U & 3U;
  if (digit == 0) return CodeAuthority::standard;
  if (letter == 0) {
    const bool makers_own = digit == 1 || (digit == 3 && (code.bits() & 0xFFFU) < 0x400);
    return makers_own ? CodeAuthority::manufacturer : CodeAuthority::standard;
  }
  return digit == 3 ? CodeAuthority::reserved : CodeAuthority::manufacturer;
}

}  // namespace slipcase::units
