// The one place where the version is written; CMake reads it from here.
#pragma once

#include <string_view>

namespace slipcase {

inline constexpr std::string_view version = "0.1.0";

}  // namespace slipcase
