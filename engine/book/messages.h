// Messages about the cards of one vehicle, held against each other, and about readings that are to
// be put onto a card.
#pragma once

#include "slipcase/diagnostic.h"

namespace slipcase::book {

inline constexpr Message cards_disagree{"cards-disagree", Severity::warning};

// Readings as they are given.
inline constexpr Message reading_shape{"reading-shape"};
inline constexpr Message reading_no_time{"reading-no-time"};
inline constexpr Message reading_twice{"reading-twice"};
inline constexpr Message reading_said_twice{"reading-said-twice"};
inline constexpr Message reading_date_shape{"reading-date-shape"};
inline constexpr Message reading_not_unsigned{"reading-not-unsigned"};
inline constexpr Message reading_rows_differ{"reading-rows-differ"};
inline constexpr Message reading_too_many{"reading-too-many-rows"};
inline constexpr Message reading_none{"reading-none"};
inline constexpr Message reading_column{"reading-column"};

// Readings beside those of the card.
inline constexpr Message reading_on_card{"reading-on-card"};
inline constexpr Message reading_backwards{"reading-backwards", Severity::warning};
inline constexpr Message reading_sign_reversed{"reading-sign-reversed", Severity::warning};

}  // namespace slipcase::book
