// The words that a unit profile gives to rules: scopes, members, marks and relations.
// Plain names and tables; the profile fills it, rules are resolved against it.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "slipcase/ids.h"

namespace slipcase::rulebase {

using ScopeId = Id<struct ScopeTag>;
using MemberId = Id<struct MemberTag>;  // index within its scope
using MarkId = Id<struct MarkTag>;
using RelationId = Id<struct RelationTag>;
using CodeFamilyId = Id<struct CodeFamilyTag>;

struct Scope {
  std::string name;    // "element"
  std::string plural;  // "elements"
  std::vector<std::string> members;
};

struct Mark {
  std::string name;  // "rotating"
  ScopeId scope;
  std::vector<bool> on;  // per member
};

/// `shift applying element`: holds[shift][element]. Every relation is stored once per direction,
/// each under the word it is read with from that end, so that readers need no special case.
struct Relation {
  std::string word;  // "applying", "applied_by", "without"
  ScopeId subject;   // what is selected: shift
  ScopeId object;    // the term behind the word: element
  std::vector<std::vector<bool>> holds;
};

/// A name for trouble codes that the profile maps member by member (`stored ratio_code of gear`).
struct CodeFamily {
  std::string name;
  std::optional<ScopeId> scope;
};

struct UnitVocabulary {
  std::string unit;
  std::vector<Scope> scopes;
  std::vector<Mark> marks;
  std::vector<Relation> relations;
  std::vector<CodeFamily> code_families;
  std::vector<std::string>
      events;  // those the profile itself looks for; the rules may ask for them

  [[nodiscard]] std::optional<ScopeId> find_scope(std::string_view name_or_plural) const;
  [[nodiscard]] std::optional<MemberId> find_member(ScopeId scope, std::string_view name) const;
  /// All scopes that have a member of this name (K3 is an element; R may be a gear and a range).
  [[nodiscard]] std::vector<ScopeId> scopes_with_member(std::string_view name) const;
  [[nodiscard]] std::optional<MarkId> find_mark(ScopeId scope, std::string_view name) const;
  [[nodiscard]] std::optional<RelationId> find_relation(ScopeId subject, std::string_view word,
                                                        ScopeId object) const;
  [[nodiscard]] std::optional<CodeFamilyId> find_code_family(std::string_view name) const;
  [[nodiscard]] const Scope& scope(ScopeId id) const { return scopes.at(id.at()); }
  [[nodiscard]] std::size_t member_count(std::optional<ScopeId> id) const {
    return id ? scopes.at(id->at()).members.size() : 1;
  }
};

}  // namespace slipcase::rulebase
