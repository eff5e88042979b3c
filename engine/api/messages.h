// Messages about files as wholes, and about trials.
#pragma once

#include "slipcase/diagnostic.h"

namespace slipcase::api {

inline constexpr Message file_unreadable{"file-unreadable"};
inline constexpr Message no_rules{"no-rules"};
inline constexpr Message no_profile{"no-profile"};
inline constexpr Message shipped_twice{"shipped-twice"};

inline constexpr Message unknown_unit{"card-unknown-unit"};

inline constexpr Message book_unreadable{"book-unreadable"};
inline constexpr Message card_not_changed{"card-not-changed"};
inline constexpr Message card_not_written{"card-not-written"};

// About a trial, when it is run.
inline constexpr Message trial_without_day{"trial-without-day"};

// About what a calculator is asked.
inline constexpr Message unknown_gear{"unknown-gear"};
inline constexpr Message speed_direction{"speed-direction"};
inline constexpr Message speed_impossible{"speed-impossible"};
inline constexpr Message fluid_not_described{"fluid-not-described"};
inline constexpr Message amount_impossible{"amount-impossible"};
inline constexpr Message outside_standard{"outside-standard"};
inline constexpr Message no_code{"no-code"};

}  // namespace slipcase::api
