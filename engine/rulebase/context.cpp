#include "rulebase/context.h"

#include <fmt/core.h>

#include "rulebase/messages.h"
#include "support/suggest.h"

namespace slipcase::rulebase {

namespace {

// Names in which `word` begins a part: `clear` in `codes_cleared` and `values_cleared`.
std::vector<std::string> names_with_part(std::string_view word,
                                         std::span<const std::string> names) {
  std::vector<std::string> found;
  if (word.size() < 3) return found;
  for (const std::string& name : names) {
    const bool begins = name.size() > word.size() && name.starts_with(word);
    const bool part_begins = name.find("_" + std::string(word)) != std::string::npos;
    if (begins || part_begins) found.push_back(name);
  }
  return found;
}

}  // namespace

const Symbol* Context::find(const language::Word& word, Kinds wanted, std::string_view what_for) {
  const Symbol* symbol = names.find(word.text);
  if (symbol == nullptr) {
    if (!lost.contains(word.text)) report_unknown(word, wanted);
    return nullptr;
  }
  if (symbol->uncertain) return nullptr;
  if (!symbol->is(wanted)) {
    report_wrong_kind(word, *symbol, wanted, what_for);
    return nullptr;
  }
  if (symbol->removed) {
    auto& diagnostic = error(
        taken_out, word.place,
        fmt::format("`{}` was taken out of use; revise this line or remove what it belongs to",
                    word.text));
    diagnostic.notes.push_back({symbol->removed, "it was removed here"});
    return nullptr;
  }
  return symbol;
}

const Symbol* Context::find_target(const language::Word& word, Kinds wanted,
                                   std::string_view what_for, bool& left_out) {
  const Symbol* symbol = names.find(word.text);
  if (symbol != nullptr && symbol->removed && origin_ == Origin::shipped && symbol->is(wanted)) {
    rules.left_out.push_back({line_, word.text, *symbol->removed});
    left_out = true;
    return nullptr;
  }
  return find(word, wanted, what_for);
}

bool Context::check_in_use(const language::Word& word, const Symbol& symbol, const Term& term,
                           bool* left_out) {
  const auto* member = std::get_if<MemberId>(&term);
  if (member == nullptr) return true;
  for (const auto& [other, place] : symbol.removed_for) {
    if (other != *member) continue;
    if (left_out != nullptr && origin_ == Origin::shipped) {
      rules.left_out.push_back({line_, std::string(symbol.name), place});
      *left_out = true;
      return false;
    }
    auto& diagnostic =
        error(taken_out, word.place,
              fmt::format("`{} of {}` was taken out of use; revise this line or remove what it "
                          "belongs to",
                          symbol.name, member_name(*symbol.scope, *member)));
    diagnostic.notes.push_back({place, "it was removed here"});
    return false;
  }
  return true;
}

std::string Context::did_you_mean(std::string_view word, std::span<const std::string> candidates) {
  if (suggestions_left_ == 0) return "";
  --suggestions_left_;
  return slipcase::did_you_mean(word, candidates);
}

void Context::report_unknown(const language::Word& word, Kinds wanted) {
  if (suggestions_left_ == 0) {
    error(unknown_name, word.place, fmt::format("`{}` is declared nowhere", word.text));
    return;
  }
  const std::vector<std::string> valid = names.of(wanted);
  const std::string suggestion = did_you_mean(word.text, valid);
  const std::vector<std::string> parts = names_with_part(word.text, valid);
  if (suggestion.empty() && parts.size() > 1) {
    error(which_one, word.place,
          fmt::format("`{}` could be {}; write the whole name", word.text, quoted_list(parts)));
    return;
  }
  if (suggestion.empty() && parts.size() == 1) {
    error(unknown_name, word.place,
          fmt::format("`{}` is declared nowhere, did you mean `{}`?", word.text, parts.front()));
    return;
  }
  error(unknown_name, word.place, fmt::format("`{}` is declared nowhere{}", word.text, suggestion));
}

void Context::report_wrong_kind(const language::Word& word, const Symbol& symbol, Kinds wanted,
                                std::string_view what_for) {
  auto& diagnostic =
      error(wrong_kind, word.place,
            fmt::format("`{}` is {}; {} needs {}", word.text, with_article(symbol.kind),
                        what_for.empty() ? "this place" : what_for, describe(wanted)));
  diagnostic.notes.push_back({symbol.place, "it is declared here"});
}

}  // namespace slipcase::rulebase
