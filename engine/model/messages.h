// Messages about what counts mean together.
#pragma once

#include "slipcase/diagnostic.h"

namespace slipcase::model {

inline constexpr Message more_than_overall{"more-than-overall", Severity::warning};
// Where the rate without a cause follows from `overall`; rulebase/ warns where it is written.
inline constexpr Message fewer_than_the_rest{"fewer-than-the-rest", Severity::warning};
// Where no rate without a cause can make the share of all jobs what `overall` says.
inline constexpr Message overall_missed{"overall-missed", Severity::warning};
inline constexpr Message grades_disagree{"grades-disagree", Severity::warning};

}  // namespace slipcase::model
