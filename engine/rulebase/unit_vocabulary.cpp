#include "rulebase/unit_vocabulary.h"

#include <algorithm>

namespace slipcase::rulebase {

namespace {

template <class IdType, class List, class Test>
std::optional<IdType> find_index(const List& list, const Test& test) {
  const auto found = std::find_if(list.begin(), list.end(), test);
  if (found == list.end()) return std::nullopt;
  return IdType{static_cast<std::uint32_t>(found - list.begin())};
}

}  // namespace

std::optional<ScopeId> UnitVocabulary::find_scope(std::string_view name_or_plural) const {
  return find_index<ScopeId>(scopes, [&](const Scope& scope) {
    return scope.name == name_or_plural || scope.plural == name_or_plural;
  });
}

std::optional<MemberId> UnitVocabulary::find_member(ScopeId scope, std::string_view name) const {
  return find_index<MemberId>(scopes.at(scope.at()).members,
                              [&](const std::string& member) { return member == name; });
}

std::vector<ScopeId> UnitVocabulary::scopes_with_member(std::string_view name) const {
  std::vector<ScopeId> found;
  for (std::uint32_t index = 0; index < scopes.size(); ++index) {
    if (find_member(ScopeId{index}, name)) found.push_back(ScopeId{index});
  }
  return found;
}

std::optional<MarkId> UnitVocabulary::find_mark(ScopeId scope, std::string_view name) const {
  return find_index<MarkId>(
      marks, [&](const Mark& mark) { return mark.scope == scope && mark.name == name; });
}

std::optional<RelationId> UnitVocabulary::find_relation(ScopeId subject, std::string_view word,
                                                        ScopeId object) const {
  return find_index<RelationId>(relations, [&](const Relation& relation) {
    return relation.subject == subject && relation.object == object && relation.word == word;
  });
}

std::optional<CodeFamilyId> UnitVocabulary::find_code_family(std::string_view name) const {
  return find_index<CodeFamilyId>(code_families,
                                  [&](const CodeFamily& family) { return family.name == name; });
}

}  // namespace slipcase::rulebase
