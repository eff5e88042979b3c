// No more messages about one text than a person reads.
#pragma once

#include <cstddef>

#include "slipcase/diagnostic.h"

namespace slipcase {

/// Errors, and warnings, that are listed of one text.
inline constexpr std::size_t most_messages = 50;

inline constexpr Message too_many_errors{"too-many-errors"};
inline constexpr Message too_many_warnings{"too-many-warnings", Severity::warning};

/// "120 more errors in this text are not listed"
void add_not_listed(Diagnostics& diagnostics, Severity severity, std::size_t more, Place first);

/// The first of each text, in their order, and behind the last of them how many more there are;
/// lists that were cut before count in full.
[[nodiscard]] Diagnostics listed(const Diagnostics& all);

}  // namespace slipcase
