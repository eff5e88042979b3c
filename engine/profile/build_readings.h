// Readings of a draft with their bounds member by member.
#pragma once

#include <vector>

#include "profile/draft.h"
#include "profile/profile.h"
#include "profile/vocabulary_builder.h"

namespace slipcase::profile {

[[nodiscard]] std::vector<ReadingProfile> build_readings(const std::vector<ReadingDraft>& drafts,
                                                         VocabularyBuilder& vocabulary);

/// The name of the reading that is the turbine or output speed: a rotation of gear.
[[nodiscard]] std::optional<std::string> speed_reading_name(
    const std::optional<Scalar>& name, const std::vector<ReadingProfile>& readings,
    ScopeId gear_scope, Diagnostics& diagnostics);

}  // namespace slipcase::profile
