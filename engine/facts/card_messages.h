// Messages about what only a job card has.
#pragma once

#include "slipcase/diagnostic.h"

namespace slipcase::facts {

inline constexpr Message reference_shape{"card-reference-shape"};
inline constexpr Message name_shape{"card-name-shape"};
inline constexpr Message member_shape{"card-member-shape"};
inline constexpr Message word_unknown{"card-word-unknown"};
inline constexpr Message code_shape{"card-code-shape"};
inline constexpr Message codes_empty{"card-codes-empty"};
inline constexpr Message odometer_negative{"card-odometer-negative"};
inline constexpr Message odometer_impossible{"card-odometer-impossible"};
inline constexpr Message temperature_impossible{"card-temperature-impossible"};
inline constexpr Message time_missing{"card-time-missing"};
inline constexpr Message closed_early{"card-closed-early"};
inline constexpr Message reading_empty{"card-reading-empty", Severity::warning};
inline constexpr Message card_found_shape{"card-found-shape"};

// About an answer that is only supposed.
inline constexpr Message supposition_shape{"supposition-shape"};

}  // namespace slipcase::facts
