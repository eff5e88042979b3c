// Letters and digits as the languages here know them, whatever the locale of the process.
#pragma once

namespace slipcase {

[[nodiscard]] constexpr bool is_digit(char c) { return c >= '0' && c <= '9'; }

}  // namespace slipcase
