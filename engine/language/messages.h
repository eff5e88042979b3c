// The messages that reading rule text can give. Names are stable: people search for them.
#pragma once

#include "slipcase/diagnostic.h"

namespace slipcase::language {

// Characters and texts.
inline constexpr Message not_utf8{"not-utf8"};
inline constexpr Message control_character{"control-character"};
inline constexpr Message wrong_symbol{"wrong-symbol"};
inline constexpr Message quote_missing{"quote-missing"};
inline constexpr Message single_quotes{"single-quotes"};
inline constexpr Message too_deep{"too-deep"};
inline constexpr Message parenthesis_missing{"parenthesis-missing"};

// Words.
inline constexpr Message unknown_word{"unknown-word"};
inline constexpr Message expected_other{"expected-other"};
inline constexpr Message name_shape{"name-shape"};
inline constexpr Message reserved_name{"reserved-name"};
inline constexpr Message language_version{"language-version"};
inline constexpr Message outside_declaration{"outside-declaration"};

// Numbers, counts, dates.
inline constexpr Message count_shape{"count-shape"};
inline constexpr Message number_shape{"number-shape"};
inline constexpr Message unit_shape{"unit-shape"};
inline constexpr Message date_shape{"date-shape"};
inline constexpr Message grade_or_more{"grade-or-more"};
inline constexpr Message flags_needs_bad_good{"flags-needs-bad-good"};

// Conditions.
inline constexpr Message mixed_and_or{"mixed-and-or"};
inline constexpr Message chained_comparison{"chained-comparison"};
inline constexpr Message double_not{"double-not"};
inline constexpr Message condition_too_long{"condition-too-long"};

}  // namespace slipcase::language
