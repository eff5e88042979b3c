// Messages about the log of a drive and about its mapping.
#pragma once

#include "slipcase/diagnostic.h"

namespace slipcase::drive {

inline constexpr Message time_backwards{"drive-time-backwards"};
inline constexpr Message column_empty{"drive-column-empty"};
inline constexpr Message value_impossible{"drive-value-impossible"};
inline constexpr Message gear_unknown{"drive-gear-unknown"};
inline constexpr Message meaning_unknown{"drive-meaning-unknown"};
inline constexpr Message log_too_short{"drive-too-short"};

}  // namespace slipcase::drive
