// The phrases that several parts of the grammar share, one function each.
//
// Each returns false and leaves the cursor where it was if its phrase does not stand there.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

#include "language/ast.h"
#include "language/session.h"

namespace slipcase::language::grammar {

/// A whole number up to 10^18 in plain digits.
[[nodiscard]] std::optional<std::uint64_t> whole_number(std::string_view text);

bool read_quantity(Cursor& at, Session& session, QuantityLiteral& quantity);
bool read_selection(Cursor& at, Session& session, Selection& selection);
bool read_reference(Cursor& at, Session& session, Reference& reference);
bool read_path(Cursor& at, Session& session, Path& path);
bool read_event_use(Cursor& at, Session& session, EventUse& use);
bool read_count(Cursor& at, Session& session, CountPhrase& count);
/// Without `jobs`.
bool read_bare_count(Cursor& at, Session& session, CountPhrase& count);
bool read_graded_count(Cursor& at, Session& session, GradedCount& count);
bool read_value(Cursor& at, Session& session, Value& value);
bool read_condition(Cursor& at, Session& session, Condition& condition);

}  // namespace slipcase::language::grammar
