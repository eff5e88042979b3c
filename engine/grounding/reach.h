// Which members a line or a selection reaches, on one unit.
#pragma once

#include <optional>
#include <vector>

#include "grounding/ids.h"
#include "rulebase/rulebase.h"

namespace slipcase::grounding {

/// The members that variables stand for; index 0 is the declaration's own member.
using Bindings = std::vector<std::optional<MemberId>>;

[[nodiscard]] std::optional<MemberId> member_of(const rulebase::Term& term,
                                                const Bindings& bindings);

/// In the order of the profile.
[[nodiscard]] std::vector<MemberId> selected(const rulebase::UnitVocabulary& unit,
                                             const rulebase::Selection& selection,
                                             const Bindings& bindings);

/// What a line written for `own` reaches: one entry without a member for a thing without a scope.
[[nodiscard]] std::vector<std::optional<MemberId>> reached(const rulebase::UnitVocabulary& unit,
                                                           const rulebase::Reach& reach,
                                                           std::optional<MemberId> own);

}  // namespace slipcase::grounding
