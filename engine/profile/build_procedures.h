// Learning procedures with their names looked up, held against the chart.
#pragma once

#include <vector>

#include "profile/build_shifts.h"
#include "profile/procedure_draft.h"
#include "profile/profile.h"
#include "profile/vocabulary_builder.h"

namespace slipcase::profile {

/// `unit` has its gears, shifts, scopes and learning temperature already; `kinds` are those of the
/// shifts. What contradicts the chart is reported: a shift that the unit does not make, an element
/// that is said to learn in a manoeuvre in which it does not come on.
[[nodiscard]] std::vector<Procedure> build_procedures(const std::vector<ProcedureDraft>& drafts,
                                                      const Profile& unit,
                                                      const std::vector<ShiftKind>& kinds,
                                                      VocabularyBuilder& vocabulary);

}  // namespace slipcase::profile
