// Messages about a job card that does not fit the rules and the unit.
#pragma once

#include "slipcase/diagnostic.h"

namespace slipcase::evaluation {

// Names.
inline constexpr Message other_unit{"card-other-unit"};
inline constexpr Message unknown_name{"card-unknown-name"};
inline constexpr Message wrong_kind{"card-wrong-kind"};
inline constexpr Message unknown_member{"card-unknown-member"};
inline constexpr Message which_member{"card-which-member"};
inline constexpr Message no_member{"card-no-member"};
inline constexpr Message unknown_controller{"card-unknown-controller"};

// Values.
inline constexpr Message answer_shape{"card-answer-shape"};
inline constexpr Message yes_no{"card-yes-no"};
inline constexpr Message unknown_word{"card-unknown-word"};
inline constexpr Message date_shape{"card-date-shape"};
inline constexpr Message impossible_value{"card-impossible-value"};
inline constexpr Message code_elsewhere{"card-code-elsewhere", Severity::warning};
inline constexpr Message not_answered_here{"card-not-answered-here"};

// What contradicts itself.
inline constexpr Message contradiction{"card-contradiction"};
inline constexpr Message happened_never{"card-happened-never"};
inline constexpr Message not_driven{"card-not-driven"};
inline constexpr Message confirmed_and_sound{"card-confirmed-and-sound"};

// Time.
inline constexpr Message not_opened{"card-not-opened"};
inline constexpr Message after_nothing{"card-after-nothing"};
inline constexpr Message after_in_circle{"card-after-in-circle"};
inline constexpr Message odometer_falls{"card-odometer-falls", Severity::warning};
inline constexpr Message after_opened{"card-after-opened", Severity::warning};

}  // namespace slipcase::evaluation
