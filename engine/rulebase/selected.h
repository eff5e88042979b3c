// Which members a selection or a line's end means, once the members around it are known.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "rulebase/rulebase.h"

namespace slipcase::rulebase {

/// Members that variables 0, 1, ... stand for.
using Members = std::span<const MemberId>;

/// The member a term means; 0 for a thing without a scope.
[[nodiscard]] MemberId member_of(const Term& term, Members variables);

/// In the order of the profile.
[[nodiscard]] std::vector<MemberId> selected(const UnitVocabulary& unit, const Selection& selection,
                                             Members variables);

/// One member for a term, those selected for a selection. `own` is the declaration's own member.
[[nodiscard]] std::vector<MemberId> reached(const UnitVocabulary& unit, const Reach& reach,
                                            MemberId own);

/// "slips of K1", or the name alone for a thing without a scope.
[[nodiscard]] std::string name_with_member(const UnitVocabulary& unit, const Header& header,
                                           MemberId member);

}  // namespace slipcase::rulebase
