#include "rulebase/scopes.h"

#include <string_view>
#include <vector>

#include <fmt/core.h>

#include "rulebase/messages.h"
#include "support/suggest.h"

namespace slipcase::rulebase {

std::optional<ScopeId> find_scope(const UnitVocabulary& unit, const language::Word& word,
                                  Diagnostics& diagnostics) {
  const auto found = unit.find_scope(word.text);
  if (found) return found;
  std::vector<std::string> names;
  for (const Scope& scope : unit.scopes) names.push_back(scope.name);
  std::string text = fmt::format("`{}` is nothing that the unit `{}` has{}", word.text, unit.unit,
                                 did_you_mean(word.text, names));
  if (!suggest(word.text, names)) text += fmt::format("; it has {}", quoted_list(names));
  diagnostics.add(unknown_scope, word.place, text);
  return std::nullopt;
}

std::optional<MemberId> find_member(const UnitVocabulary& unit, ScopeId scope,
                                    const language::Word& word, Diagnostics& diagnostics) {
  const auto found = unit.find_member(scope, word.text);
  if (found) return found;
  const Scope& wanted = unit.scope(scope);
  for (const ScopeId other : unit.scopes_with_member(word.text)) {
    diagnostics.add(wrong_scope, word.place,
                    fmt::format("`{}` is {}; {} is needed here: {}", word.text,
                                with_article(unit.scope(other).name), with_article(wanted.name),
                                quoted_list(wanted.members)));
    return std::nullopt;
  }
  std::string text = fmt::format("no {} is called `{}`{}", wanted.name, word.text,
                                 did_you_mean(word.text, wanted.members));
  if (!suggest(word.text, wanted.members)) {
    text += fmt::format("; there are {}", quoted_list(wanted.members, 30));
  }
  diagnostics.add(unknown_member, word.place, text);
  return std::nullopt;
}

std::string with_article(const std::string& word) {
  const bool vowel =
      !word.empty() && std::string_view("aeiou").find(word.front()) != std::string_view::npos;
  return (vowel ? "an " : "a ") + word;
}

}  // namespace slipcase::rulebase
