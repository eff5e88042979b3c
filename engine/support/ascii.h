// Letters and digits as the languages here know them, whatever the locale of the process.
#pragma once

#include <string>
#include <string_view>

namespace slipcase {

[[nodiscard]] constexpr bool is_digit(char c) { return c >= '0' && c <= '9'; }

[[nodiscard]] inline std::string in_small_letters(std::string_view text) {
  std::string out(text);
  for (char& c : out) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  return out;
}

}  // namespace slipcase
