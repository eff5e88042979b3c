#include "rulebase/selected.h"

#include <stdexcept>

namespace slipcase::rulebase {

MemberId member_of(const Term& term, Members variables) {
  if (const auto* variable = std::get_if<Variable>(&term)) {
    if (variable->index >= variables.size()) throw std::logic_error("a variable without a member");
    return variables[variable->index];
  }
  if (const auto* member = std::get_if<MemberId>(&term)) return *member;
  return MemberId{0};
}

std::vector<MemberId> selected(const UnitVocabulary& unit, const Selection& selection,
                               Members variables) {
  const auto count = static_cast<std::uint32_t>(unit.member_count(selection.scope));
  const Relation* relation = nullptr;
  MemberId object;
  if (selection.relation) {
    relation = &unit.relations.at(selection.relation->relation.at());
    object = member_of(selection.relation->object, variables);
  }
  std::vector<MemberId> found;
  for (std::uint32_t i = 0; i < count; ++i) {
    const MemberId member{i};
    if (selection.other_than && member == member_of(*selection.other_than, variables)) continue;
    if (selection.mark) {
      const bool on = unit.marks.at(selection.mark->mark.at()).on.at(i);
      if (on == selection.mark->negated) continue;
    }
    if (relation != nullptr) {
      const bool holds = relation->holds.at(i).at(object.at());
      if (holds == selection.relation->negated) continue;
    }
    found.push_back(member);
  }
  return found;
}

std::vector<MemberId> reached(const UnitVocabulary& unit, const Reach& reach, MemberId own) {
  const Members variables(&own, 1);
  if (const auto* term = std::get_if<Term>(&reach)) return {member_of(*term, variables)};
  return selected(unit, std::get<Selection>(reach), variables);
}

std::string name_with_member(const UnitVocabulary& unit, const Header& header, MemberId member) {
  if (!header.scope) return header.name;
  return header.name + " of " + unit.scope(*header.scope).members.at(member.at());
}

}  // namespace slipcase::rulebase
