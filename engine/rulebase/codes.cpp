#include "rulebase/codes.h"

#include <fmt/core.h>

#include "rulebase/messages.h"
#include "support/suggest.h"

namespace slipcase::rulebase {

namespace {

// `stored ratio_code of gear`: a family of codes of the profile.
ConditionPtr resolve_family(Context& context, const language::Word& name, const language::Word* of,
                            bool pending, const Place& place, const Variables& variables) {
  const auto family = context.unit.find_code_family(name.text);
  if (!family) {
    std::vector<std::string> names;
    for (const CodeFamily& known : context.unit.code_families) names.push_back(known.name);
    std::string text = fmt::format(
        "`{}` is neither a code like `P0733` nor a name for codes in the "
        "unit's profile{}",
        name.text, context.did_you_mean(name.text, names));
    context.error(unknown_code, name.place, text);
    return nullptr;
  }
  Symbol symbol;
  symbol.name = name.text;
  symbol.scope = context.unit.code_families[family->at()].scope;
  const auto term = resolve_member(context, symbol, name, of, variables);
  if (!term) return nullptr;
  return make_condition(place, CodeOfFamily{pending, *family, *term});
}

ConditionPtr resolve_range(Context& context, const language::CodeTest& node,
                           const language::Word& word, const Place& place) {
  const auto first = resolve_code(context, word);
  const auto last = node.last ? resolve_code(context, *node.last) : first;
  if (!first || !last) return nullptr;
  if (*last < *first) {
    context.error(
        unknown_code, node.last->place,
        fmt::format("`{1}` comes before `{0}`; write `{1} to {0}`", first->text(), last->text()));
    return nullptr;
  }
  return make_condition(place, CodeRange{node.pending, *first, *last});
}

}  // namespace

std::optional<units::TroubleCode> resolve_code(Context& context, const language::Word& word) {
  const auto code = units::TroubleCode::parse(word.text);
  if (!code) {
    context.error(
        unknown_code, word.place,
        fmt::format("`{}` is no trouble code; codes look like `P0733`: a letter P, C, B or "
                    "U, a digit 0 to 3, then three more",
                    word.text));
  }
  return code;
}

ConditionPtr resolve_code_test(Context& context, const language::CodeTest& node, const Place& place,
                               const Variables& variables) {
  if (const auto* path = std::get_if<language::Path>(&node.code)) {
    if (path->words.empty()) return nullptr;
    if (path->selection) {
      const std::string& scope = path->selection->scope.text;
      context.error(
          which_member, path->selection->place,
          fmt::format("one is meant here; for several write `any {0} ( stored {1} of {0} )`", scope,
                      path->words.front().text));
      return nullptr;
    }
    const language::Word* of = path->words.size() > 1 ? &path->words[1] : nullptr;
    return resolve_family(context, path->words.front(), of, node.pending, place, variables);
  }
  const auto& word = std::get<language::Word>(node.code);
  const bool family = context.unit.find_code_family(word.text).has_value();
  if (family && !node.last) {
    return resolve_family(context, word, nullptr, node.pending, place, variables);
  }
  return resolve_range(context, node, word, place);
}

}  // namespace slipcase::rulebase
