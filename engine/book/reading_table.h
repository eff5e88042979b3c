// Sessions of a scan tool from a table.
#pragma once

#include <optional>
#include <vector>

#include "book/reading_mapping.h"
#include "book/reading_session.h"

namespace slipcase::book {

/// Rows are sessions, or members of one: far more of them are the log of a drive.
inline constexpr std::size_t most_session_rows = 100;
inline constexpr std::size_t most_member_rows = 1000;

/// `given`: what was said beside the table; what a column means too is refused. In the order of the
/// table; rows without a value are passed over. Nothing where something is wrong.
[[nodiscard]] std::optional<std::vector<ReadSession>> read_session_table(
    const SourceSet& sources, SourceId source, const ReadingMapping& mapping,
    const grounding::GroundRules& rules, const SessionTexts& given, Diagnostics& diagnostics);

}  // namespace slipcase::book
