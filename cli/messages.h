// What the program says of itself: of its command line, its streams and what it was asked for.
#pragma once

#include "slipcase/diagnostic.h"

namespace slipcase::cli {

inline constexpr Message wrong_usage{"wrong-usage"};
inline constexpr Message too_many_repairs{"too-many-repairs"};

// Names that were asked for.
inline constexpr Message unit_unknown{"unit-unknown"};
inline constexpr Message asked_unknown{"asked-unknown"};
inline constexpr Message same_cause{"same-cause"};
inline constexpr Message no_such_trial{"no-such-trial"};
inline constexpr Message vehicle_unknown{"vehicle-unknown"};

// Answers and cards that are written.
inline constexpr Message wrong_answer{"wrong-answer"};
inline constexpr Message card_closed{"card-closed"};
inline constexpr Message drive_not_recorded{"drive-not-recorded"};
inline constexpr Message card_changed{"card-changed"};

// The machine.
inline constexpr Message shipped_rules_missing{"shipped-rules-missing"};
inline constexpr Message input_unreadable{"input-unreadable"};
inline constexpr Message output_unwritable{"output-unwritable"};
inline constexpr Message memory_exhausted{"memory-exhausted"};
inline constexpr Message program_mistake{"program-mistake"};

}  // namespace slipcase::cli
