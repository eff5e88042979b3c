#include "support/utf8.h"

#include <array>

namespace slipcase {

namespace {

constexpr char32_t replacement = 0xFFFD;

std::size_t length_of(unsigned char lead) {
  if (lead < 0x80) return 1;
  if (lead >= 0xC2 && lead <= 0xDF) return 2;
  if (lead >= 0xE0 && lead <= 0xEF) return 3;
  if (lead >= 0xF0 && lead <= 0xF4) return 4;
  return 0;
}

bool is_valid_code(char32_t code, std::size_t length) {
  constexpr std::array<char32_t, 5> least{0, 0, 0x80, 0x800, 0x10000};
  const bool surrogate = code >= 0xD800 && code <= 0xDFFF;
  return code >= least.at(length) && code <= 0x10FFFF && !surrogate;
}

}  // namespace

Character decode(std::string_view text) {
  const auto lead = static_cast<unsigned char>(text.front());
  const std::size_t length = length_of(lead);
  if (length == 1) return {lead, 1};
  if (length == 0 || text.size() < length) return {replacement, 1};
  char32_t code = lead & (0xFFU >> (length + 1));
  for (std::size_t i = 1; i < length; ++i) {
    const auto byte = static_cast<unsigned char>(text[i]);
    if ((byte & 0xC0U) != 0x80U) return {replacement, 1};
    code = (code << 6U) | (byte & 0x3FU);
  }
  if (!is_valid_code(code, length)) return {replacement, 1};
  return {code, length};
}

std::optional<std::size_t> first_invalid(std::string_view text) {
  for (std::size_t at = 0; at < text.size();) {
    const Character character = decode(text.substr(at));
    if (character.code == replacement && character.length == 1) return at;
    at += character.length;
  }
  return std::nullopt;
}

std::size_t display_width(char32_t code) {
  const auto within = [code](char32_t first, char32_t last) {
    return code >= first && code <= last;
  };
  if (within(0x300, 0x36F) || within(0x200B, 0x200F) || within(0x20D0, 0x20FF) || code == 0xFEFF)
    return 0;
  const bool wide = within(0x1100, 0x115F) || within(0x2E80, 0xA4CF) || within(0xAC00, 0xD7A3) ||
                    within(0xF900, 0xFAFF) || within(0xFE30, 0xFE6F) || within(0xFF00, 0xFF60) ||
                    within(0xFFE0, 0xFFE6) || within(0x1F300, 0x1FAFF) || within(0x20000, 0x3FFFD);
  return wide ? 2 : 1;
}

namespace {

// Marks of the bidirectional algorithm, and two more ends of line.
bool turns_direction(char32_t code) {
  return (code >= 0x2028 && code <= 0x202E) || (code >= 0x2066 && code <= 0x2069);
}

}  // namespace

bool is_printable(std::string_view text) {
  for (std::size_t at = 0; at < text.size();) {
    const Character character = decode(text.substr(at));
    const bool broken = character.code == replacement && character.length == 1;
    const bool control = character.code < 0x20 || (character.code >= 0x7F && character.code < 0xA0);
    if (broken || control || turns_direction(character.code)) return false;
    at += character.length;
  }
  return true;
}

}  // namespace slipcase
