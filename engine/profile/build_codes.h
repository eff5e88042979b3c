// Controllers and codes by part.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "profile/draft.h"
#include "profile/profile.h"
#include "profile/vocabulary_builder.h"

namespace slipcase::profile {

/// Two controllers never hold the same code.
[[nodiscard]] std::vector<Controller> build_controllers(const std::vector<ControllerDraft>& drafts,
                                                        const std::optional<Scalar>& own_controller,
                                                        Diagnostics& diagnostics);

/// Every code lies with one controller and stands for one part within its family.
[[nodiscard]] std::vector<CodeMap> build_code_maps(const ProfileDraft& draft,
                                                   const std::vector<Controller>& controllers,
                                                   VocabularyBuilder& vocabulary);

/// Each code has one text.
[[nodiscard]] std::map<units::TroubleCode, std::string> build_code_texts(
    const std::vector<CodeTextsDraft>& drafts, Diagnostics& diagnostics);

}  // namespace slipcase::profile
