// Diagnostic trouble codes: text, number and the two-byte form (SAE J2012 / ISO 15031-6).
#pragma once

#include <compare>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace slipcase::units {

/// Bits 15-14: letter P C B U; bits 13-12: first digit 0-3; then three hexadecimal digits.
class TroubleCode {
 public:
  [[nodiscard]] static constexpr TroubleCode from_bits(std::uint16_t bits) {
    return TroubleCode(bits);
  }
  /// "P0733", also in small letters; nothing for anything else.
  [[nodiscard]] static std::optional<TroubleCode> parse(std::string_view text);

  [[nodiscard]] constexpr std::uint16_t bits() const { return bits_; }
  [[nodiscard]] std::string text() const;

  friend constexpr auto operator<=>(TroubleCode, TroubleCode) = default;

 private:
  explicit constexpr TroubleCode(std::uint16_t bits) : bits_(bits) {}
  std::uint16_t bits_;
};

enum class CodeAuthority : std::uint8_t { standard, manufacturer, reserved };
/// Who defines the code (the ranges of SAE J2012).
[[nodiscard]] CodeAuthority authority(TroubleCode code);

}  // namespace slipcase::units
