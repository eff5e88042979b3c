// Messages about YAML and JSON texts and about what is expected in them.
#pragma once

#include "slipcase/diagnostic.h"

namespace slipcase::facts {

// The text as a whole.
inline constexpr Message text_too_large{"text-too-large"};
inline constexpr Message text_not_utf8{"text-not-utf8"};
inline constexpr Message text_control_character{"text-control-character"};
inline constexpr Message document_empty{"document-empty"};

// Its syntax.
inline constexpr Message yaml_syntax{"yaml-syntax"};
inline constexpr Message yaml_tab{"yaml-tab"};
inline constexpr Message yaml_anchor{"yaml-anchor"};
inline constexpr Message yaml_tag{"yaml-tag"};
inline constexpr Message yaml_merge_key{"yaml-merge-key"};
inline constexpr Message json_syntax{"json-syntax"};
inline constexpr Message json_comment{"json-comment"};
inline constexpr Message quote_missing{"yaml-quote-missing"};
inline constexpr Message second_document{"yaml-second-document"};
inline constexpr Message too_deep{"document-too-deep"};
inline constexpr Message too_many_values{"document-too-many-values"};
inline constexpr Message duplicate_key{"document-duplicate-key"};
inline constexpr Message key_not_text{"document-key-not-text"};

// What a reader expects to find.
inline constexpr Message unknown_key{"document-unknown-key"};
inline constexpr Message missing_key{"document-missing-key"};
inline constexpr Message value_missing{"document-value-missing"};
inline constexpr Message wrong_shape{"document-wrong-shape"};
inline constexpr Message date_shape{"value-date-shape"};
inline constexpr Message no_such_day{"value-no-such-day"};
inline constexpr Message no_such_time{"value-no-such-time"};
inline constexpr Message not_a_day{"card-not-a-day"};
inline constexpr Message unit_missing{"value-unit-missing"};
inline constexpr Message unit_shape{"value-unit-shape"};
inline constexpr Message unit_unknown{"value-unit-unknown"};
inline constexpr Message unit_wrong{"value-unit-wrong"};
inline constexpr Message number_shape{"value-number-shape"};
inline constexpr Message number_not_finite{"value-not-finite"};
inline constexpr Message number_range{"value-out-of-range"};
inline constexpr Message yes_or_no{"value-yes-or-no"};

}  // namespace slipcase::facts
