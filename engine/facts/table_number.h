// The number in a cell, quickly: a log has millions of them.
#pragma once

#include <optional>
#include <string_view>

namespace slipcase::facts {

/// Sign, digits, decimal sign, optional exponent, correctly rounded; nothing for anything else, for
/// digits in groups, and for what is not finite.
[[nodiscard]] std::optional<double> cell_number(std::string_view cell, char decimal);

}  // namespace slipcase::facts
