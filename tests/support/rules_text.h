// Rule texts in tests: resolved against a small invented unit, with the messages as short texts.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "language/ast.h"
#include "rulebase/resolve.h"

namespace slipcase::test {

/// Five elements, four shifts, four gears; invented, in the shape of a profile.
[[nodiscard]] rulebase::UnitVocabulary small_unit();

struct NamedText {
  std::string name;
  std::string text;
  Origin origin = Origin::own;
};

/// What came out of one or more texts.
struct Resolved {
  SourceSet sources;
  std::optional<rulebase::Rulebase> rules;
  Diagnostics diagnostics;

  /// "4:9 wrong-scope; 5:1 ..." in order of place; "name:4:9 ..." with several texts.
  [[nodiscard]] std::string messages() const;
  /// All messages as people see them.
  [[nodiscard]] std::string text() const;
};

[[nodiscard]] Resolved resolve_texts(const std::vector<NamedText>& texts);
/// One text behind a first line `language 1 unit small`: its own lines are counted from 2.
[[nodiscard]] Resolved resolve_text(std::string_view text);
[[nodiscard]] std::string messages_of(std::string_view text);
/// Messages of the checks for rules that resolve; those of resolving if they do not.
[[nodiscard]] std::string warnings_of(std::string_view text);

}  // namespace slipcase::test
