#pragma once

#include <string>

#include "golden/script.h"

namespace golden {

/// The lines of both, those only in `expected` marked `-` and those only in `actual` marked `+`;
/// runs of equal lines are shortened to three beside a difference. Empty when there is none.
[[nodiscard]] std::string diff(const Lines& expected, const Lines& actual);

}  // namespace golden
