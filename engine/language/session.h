// What the grammar carries along while it reads one text.
#pragma once

#include <string>
#include <string_view>

#include "language/reporter.h"
#include "language/tokens.h"

namespace slipcase::language {

/// A place in the token list. The list ends with an `end` token, which every cursor may look at.
using Cursor = const Token*;

/// Where reading stopped and what had to stand there, in the language's own words.
struct Failure {
  Cursor where = nullptr;
  std::string expected;
};

struct Session {
  std::string_view text;  // the whole source
  Cursor begin = nullptr;
  Cursor end = nullptr;  // the `end` token
  Reporter* reporter = nullptr;
  bool counts_may_miss = false;  // within `remove`, where a line is named by its target alone
  int open_parentheses = 0;      // around the condition that is being read

  [[nodiscard]] Place span(Cursor first, Cursor behind) const {
    if (first == behind) return {first->place.source, first->place.begin, first->place.begin};
    return {first->place.source, first->place.begin, (behind - 1)->place.end};
  }
};

}  // namespace slipcase::language
