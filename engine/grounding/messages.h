// The messages that bringing rules and a unit together can give.
#pragma once

#include "slipcase/diagnostic.h"

namespace slipcase::grounding {

inline constexpr Message reading_differs{"reading-differs"};
inline constexpr Message reset_differs{"reset-differs"};
inline constexpr Message asks_itself{"asks-itself"};

}  // namespace slipcase::grounding
