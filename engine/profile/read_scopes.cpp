#include <fmt/core.h>

#include "facts/document_messages.h"
#include "profile/messages.h"
#include "profile/read_draft.h"

namespace slipcase::profile {

using facts::MapReader;
using facts::Node;

namespace {

/// The words of a text between blanks.
std::vector<Scalar> words_of(const Scalar& text) {
  std::vector<Scalar> words;
  std::size_t begin = 0;
  while ((begin = text.text.find_first_not_of(' ', begin)) != std::string::npos) {
    const std::size_t end = std::min(text.text.find(' ', begin), text.text.size());
    words.push_back(part_of(text, begin, end - begin));
    begin = end;
  }
  return words;
}

void read_negative(MapReader& map, RelationDraft& relation, Diagnostics& diagnostics) {
  const Node* node = map.optional("negative");
  if (node == nullptr) return;
  const std::vector<Scalar> words = names_of(*node, "`negative`", diagnostics);
  if (words.size() == 2) {
    relation.negative.emplace(words[0], words[1]);
  } else {
    diagnostics.add(relation_shape, facts::head_of(*node),
                    "`negative` takes two words, one for either end: `[not_feeding, not_fed_by]`");
  }
}

void read_relation(const Scalar& name, const Node& node, ProfileDraft& draft,
                   Diagnostics& diagnostics) {
  const std::vector<Scalar> words = words_of(name);
  if (words.size() != 3) {
    diagnostics.add(relation_shape, name.place,
                    fmt::format("`{}` is no relation: write it as rules read it, scope, word and "
                                "scope: `regulator feeding element`",
                                name.text));
    return;
  }
  RelationDraft relation{words[0], words[1], words[2], {}, std::nullopt, {}};
  auto map = MapReader::of(node, fmt::format("`{}`", name.text), diagnostics);
  if (!map) return;
  const Node* inverse = map->required("inverse");
  const auto inverse_word =
      inverse != nullptr ? facts::read_scalar(*inverse, "`inverse`", diagnostics) : std::nullopt;
  read_negative(*map, relation, diagnostics);
  if (const Node* pairs = map->required("pairs")) {
    for (const auto& [one, others] : entries_of(*pairs, "`pairs`", most_entries, diagnostics)) {
      relation.pairs.emplace_back(one,
                                  names_of(*others, fmt::format("`{}`", one.text), diagnostics));
    }
  }
  map->finish();
  if (!inverse_word) return;
  relation.inverse = *inverse_word;
  draft.relations.push_back(std::move(relation));
}

}  // namespace

void read_scopes(const Node& node, ProfileDraft& draft, Diagnostics& diagnostics) {
  for (const auto& [name, value] : entries_of(node, "`scopes`", most_entries, diagnostics)) {
    ScopeDraft& scope = draft.scopes.emplace_back();
    scope.name = name;
    auto map = MapReader::of(*value, fmt::format("the scope `{}`", name.text), diagnostics);
    if (!map) continue;
    if (const Node* members = map->required("members")) {
      scope.members = names_of(*members, "`members`", diagnostics);
    }
    if (const Node* plural = map->optional("plural")) {
      scope.plural = facts::read_scalar(*plural, "`plural`", diagnostics);
    }
    map->finish();
  }
}

void read_marks(const Node& node, ProfileDraft& draft, Diagnostics& diagnostics) {
  for (const auto& [scope, marks] : entries_of(node, "`marks`", most_entries, diagnostics)) {
    for (const auto& [mark, members] : entries_of(
             *marks, fmt::format("`marks` of `{}`", scope.text), most_entries, diagnostics)) {
      draft.marks.push_back(
          {scope, mark, names_of(*members, fmt::format("`{}`", mark.text), diagnostics)});
    }
  }
}

void read_relations(const Node& node, ProfileDraft& draft, Diagnostics& diagnostics) {
  for (const auto& [name, value] : entries_of(node, "`relations`", most_entries, diagnostics)) {
    read_relation(name, *value, draft, diagnostics);
  }
}

}  // namespace slipcase::profile
