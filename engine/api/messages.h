// Messages about files as wholes.
#pragma once

#include "slipcase/diagnostic.h"

namespace slipcase::api {

inline constexpr Message file_unreadable{"file-unreadable"};
inline constexpr Message no_rules{"no-rules"};
inline constexpr Message no_profile{"no-profile"};

}  // namespace slipcase::api
