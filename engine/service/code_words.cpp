#include "service/code_words.h"

#include <algorithm>
#include <array>
#include <charconv>

#include <fmt/core.h>

namespace slipcase::service {

namespace {

using units::TroubleCode;

bool is_hexadecimal(std::string_view text) {
  return text.find_first_not_of("0123456789abcdefABCDEF") == std::string_view::npos;
}

std::optional<TroubleCode> from_digits(std::string_view digits) {
  if (digits.size() != 4 || !is_hexadecimal(digits)) return std::nullopt;
  std::uint16_t bits = 0;
  std::from_chars(digits.data(), digits.data() + digits.size(), bits, 16);
  return TroubleCode::from_bits(bits);
}

bool is_byte(std::string_view word) { return word.size() == 2 && is_hexadecimal(word); }

/// The hexadecimal digit behind letter and first digit, of the engine and transmission codes.
/// SAE J2012 / ISO 15031-6, from memory; P0 and P2 do not divide the digits alike.
struct Group {
  unsigned first_digit;
  unsigned from;
  unsigned to;
  std::string_view name;
};
constexpr std::array groups{
    Group{0, 0x0, 0x2, "fuel and air"},
    Group{0, 0x3, 0x3, "ignition and misfires"},
    Group{0, 0x4, 0x4, "emission controls"},
    Group{0, 0x5, 0x5, "vehicle speed, idle and other inputs"},
    Group{0, 0x6, 0x6, "controllers and their outputs"},
    Group{0, 0x7, 0x9, "transmission"},
    Group{0, 0xA, 0xF, "electric and hybrid drive"},
    Group{2, 0x0, 0x2, "fuel and air"},
    Group{2, 0x3, 0x3, "ignition and misfires"},
    Group{2, 0x4, 0x4, "emission controls"},
    Group{2, 0x5, 0x5, "vehicle speed, idle and other inputs"},
    Group{2, 0x6, 0x6, "controllers and their outputs"},
    Group{2, 0x7, 0x7, "transmission"},
};

}  // namespace

std::optional<TroubleCode> read_code(const std::vector<std::string>& words, std::size_t& at) {
  std::string_view word = words[at];
  if (is_byte(word) && at + 1 < words.size() && is_byte(words[at + 1])) {
    const auto code = from_digits(words[at] + words[at + 1]);
    at += 2;
    return code;
  }
  if (word.starts_with("0x") || word.starts_with("0X")) word.remove_prefix(2);
  auto code = TroubleCode::parse(word);
  if (!code) code = from_digits(word);
  if (code) ++at;
  return code;
}

std::string in_bytes(TroubleCode code) {
  return fmt::format("{:02X} {:02X}", code.bits() >> 8U, code.bits() & 0xFFU);
}

std::string_view system_of(TroubleCode code) {
  constexpr std::array<std::string_view, 4> systems{"engine and transmission", "chassis", "body",
                                                    "network between controllers"};
  return systems.at(code.bits() >> 14U);
}

std::string_view group_of(TroubleCode code) {
  const unsigned digit = code.bits() >> 12U;  // the letter P is 0
  const unsigned next = code.bits() >> 8U & 0xFU;
  const auto* found = std::find_if(groups.begin(), groups.end(), [&](const Group& group) {
    return group.first_digit == digit && group.from <= next && next <= group.to;
  });
  return found == groups.end() ? std::string_view() : found->name;
}

}  // namespace slipcase::service
