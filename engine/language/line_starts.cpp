#include "language/line_starts.h"

#include <algorithm>
#include <string>
#include <vector>

#include "language/words.h"
#include "support/suggest.h"

namespace slipcase::language {

namespace {

using grammar::ClauseRule;

/// Shorter words are near to too many others.
constexpr std::size_t shortest_misspelt = 3;

const ClauseRule* clause_with(std::string_view first_word) {
  for (const ClauseRule& rule : grammar::clause_rules()) {
    if (!rule.words.starts_with(first_word)) continue;
    const std::size_t length = first_word.size();
    if (rule.words.size() == length || rule.words[length] == ' ') return &rule;
  }
  return nullptr;
}

/// First words of clauses, those behind which a text stands or the others.
std::vector<std::string> first_words(bool before_text) {
  std::vector<std::string> words;
  for (const ClauseRule& rule : grammar::clause_rules()) {
    const auto first = rule.words.substr(0, rule.words.find(' '));
    if (takes_text(first) == before_text) words.emplace_back(first);
  }
  return words;
}

/// A declaration goes on with a name or a text on its line.
bool header_follows(Cursor at) {
  const Token& next = *(at + 1);
  if (next.first_on_line) return false;
  return next.kind == TokenKind::text || (next.kind == TokenKind::word && !next.reserved);
}

/// All but `at most one`, whose first word means too little alone.
std::vector<std::string> single_declaration_words() {
  std::vector<std::string> words;
  for (const DeclarationWord& entry : declaration_words()) {
    if (entry.kind != DeclarationKind::at_most_one) words.emplace_back(entry.word);
  }
  return words;
}

}  // namespace

bool is_free_word(const Token& token) {
  return token.kind == TokenKind::word && !token.reserved && !is_number_shaped(token.spelling);
}

const ClauseRule* clause_at(Cursor at) {
  return at->kind == TokenKind::word ? clause_with(at->spelling) : nullptr;
}

const ClauseRule* misspelt_clause(Cursor at) {
  if (at->kind != TokenKind::word || at->spelling.size() < shortest_misspelt) return nullptr;
  if (at->reserved && !at->first_on_line) return nullptr;
  // `show` is near to `how` and to `shows`: what follows decides.
  const bool before_text = (at + 1)->kind == TokenKind::text;
  const auto likely = first_words(before_text);
  const auto others = first_words(!before_text);
  auto meant = suggest(at->spelling, likely);
  if (!meant) meant = suggest(at->spelling, others);
  return meant ? clause_with(*meant) : nullptr;
}

std::optional<DeclarationKind> misspelt_declaration(Cursor at) {
  if (!is_free_word(*at) || at->spelling.size() < shortest_misspelt || !header_follows(at)) {
    return std::nullopt;
  }
  static const std::vector<std::string> words = single_declaration_words();
  const auto meant = suggest(at->spelling, words);
  if (!meant) return std::nullopt;
  const auto entries = declaration_words();
  const auto found =
      std::find_if(entries.begin(), entries.end(),
                   [&](const DeclarationWord& entry) { return entry.word == *meant; });
  return found->kind;
}

}  // namespace slipcase::language
