#include "grounding/reach.h"

namespace slipcase::grounding {

using rulebase::Selection;
using rulebase::UnitVocabulary;

namespace {

bool passes(const UnitVocabulary& unit, const Selection& selection, const Bindings& bindings,
            MemberId candidate) {
  if (selection.other_than && member_of(*selection.other_than, bindings) == candidate) return false;
  if (selection.mark) {
    const bool marked = unit.marks.at(selection.mark->mark.at()).on.at(candidate.at());
    if (marked == selection.mark->negated) return false;
  }
  if (selection.relation) {
    const auto& relation = unit.relations.at(selection.relation->relation.at());
    const auto object = member_of(selection.relation->object, bindings);
    const bool holds = object && relation.holds.at(candidate.at()).at(object->at());
    if (holds == selection.relation->negated) return false;
  }
  return true;
}

}  // namespace

std::optional<MemberId> member_of(const rulebase::Term& term, const Bindings& bindings) {
  if (const auto* variable = std::get_if<rulebase::Variable>(&term)) {
    return bindings.at(variable->index);
  }
  if (const auto* member = std::get_if<MemberId>(&term)) return *member;
  return std::nullopt;
}

std::vector<MemberId> selected(const UnitVocabulary& unit, const Selection& selection,
                               const Bindings& bindings) {
  std::vector<MemberId> members;
  const auto count = static_cast<std::uint32_t>(unit.member_count(selection.scope));
  for (std::uint32_t index = 0; index < count; ++index) {
    if (passes(unit, selection, bindings, MemberId{index})) members.push_back(MemberId{index});
  }
  return members;
}

std::vector<std::optional<MemberId>> reached(const UnitVocabulary& unit,
                                             const rulebase::Reach& reach,
                                             std::optional<MemberId> own) {
  const Bindings bindings{own};
  if (const auto* term = std::get_if<rulebase::Term>(&reach)) return {member_of(*term, bindings)};
  const auto members = selected(unit, std::get<Selection>(reach), bindings);
  return {members.begin(), members.end()};
}

}  // namespace slipcase::grounding
