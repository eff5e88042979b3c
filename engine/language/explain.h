// A failed expectation, in the language's own words.
#pragma once

#include <string_view>

#include "language/session.h"

namespace slipcase::language {

/// Reports at the place where the reader has to change something. `line` is the first word of the
/// line that was being read.
void explain(const Failure& failure, std::string_view line, const Session& session);

/// "`shows`", "the text `"..."`", "the end of the file".
[[nodiscard]] std::string describe(const Token& token);

/// A mistake that can be told from one token (and the one before it) alone, wherever it stands:
/// `2,5`, `200 000`, `4/22/2031`, `2031-02-30`. False if it is none.
bool report_shape(Cursor where, const Session& session);

/// `lining_worn K2 first`, `flare 2-3 sometimes`: met at the member or at what stands behind it.
bool report_missing_of(Cursor where, const Session& session);

}  // namespace slipcase::language
