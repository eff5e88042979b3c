// Messages about the cards of one vehicle, held against each other.
#pragma once

#include "slipcase/diagnostic.h"

namespace slipcase::book {

inline constexpr Message cards_disagree{"cards-disagree", Severity::warning};

}  // namespace slipcase::book
