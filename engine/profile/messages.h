// The messages that reading a unit profile can give. Names are stable: people search for them.
#pragma once

#include "slipcase/diagnostic.h"

namespace slipcase::profile {

// Names.
inline constexpr Message name_shape{"profile-name-shape"};
inline constexpr Message member_shape{"profile-member-shape"};
inline constexpr Message reserved_name{"profile-reserved-name"};
inline constexpr Message name_clash{"profile-name-clash"};
inline constexpr Message named_twice{"profile-named-twice"};
inline constexpr Message unknown_scope{"profile-unknown-scope"};
inline constexpr Message unknown_member{"profile-unknown-member"};
inline constexpr Message relation_shape{"profile-relation-shape"};

// Numbers.
inline constexpr Message impossible_number{"profile-impossible-number"};
inline constexpr Message unknown_dimension{"profile-unknown-dimension"};
inline constexpr Message too_many{"profile-too-many"};

// The gear train.
inline constexpr Message unknown_shaft{"unknown-shaft"};
inline constexpr Message set_shape{"set-shape"};
inline constexpr Message element_shape{"element-shape"};
inline constexpr Message teeth_do_not_fit{"teeth-do-not-fit"};
inline constexpr Message planets_uneven{"planets-uneven", Severity::warning};

// The chart.
inline constexpr Message gear_loose{"gear-loose"};
inline constexpr Message gear_locked{"gear-locked"};
inline constexpr Message gear_element_idle{"gear-element-idle"};
inline constexpr Message gear_twice{"gear-twice"};
inline constexpr Message neutral_holds{"neutral-holds"};
inline constexpr Message ratio_differs{"ratio-differs"};
inline constexpr Message element_unused{"element-unused"};

// Shifts.
inline constexpr Message shift_shape{"shift-shape"};
inline constexpr Message shift_differs{"shift-differs"};
inline constexpr Message shift_applies_nothing{"shift-applies-nothing"};

// Readings.
inline constexpr Message range_reversed{"range-reversed"};
inline constexpr Message zero_outside{"zero-outside"};
inline constexpr Message limit_outside_possible{"limit-outside-possible"};
inline constexpr Message watch_beyond_limit{"watch-beyond-limit"};
inline constexpr Message bounds_missing{"bounds-missing"};
inline constexpr Message speed_reading{"not-a-speed-reading"};

// Learning procedures.
inline constexpr Message procedure_shape{"procedure-shape"};
inline constexpr Message procedure_shift{"procedure-no-such-shift"};
inline constexpr Message procedure_teaches{"procedure-teaches-not"};
inline constexpr Message procedure_untaught{"procedure-element-untaught", Severity::warning};

// Trouble codes.
inline constexpr Message code_shape{"profile-code-shape"};
inline constexpr Message code_twice{"profile-code-twice"};
inline constexpr Message controllers_overlap{"controllers-overlap"};
inline constexpr Message code_without_controller{"code-without-controller"};
inline constexpr Message code_texts_uneven{"code-texts-uneven"};
inline constexpr Message unknown_controller{"profile-unknown-controller"};

}  // namespace slipcase::profile
