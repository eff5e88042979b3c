// Profile YAML to a Profile, with everything computed that follows from chart and gear train.
#pragma once

#include <optional>

#include "profile/profile.h"
#include "slipcase/diagnostic.h"

namespace slipcase::profile {

/// Strict: unknown keys, wrong units, duplicate keys, alias bombs and contradictions (a gear whose
/// elements do not fix one ratio, a stated ratio that differs from the tooth counts, a shift that
/// applies nothing ...) are errors with their place. Nothing comes back if there was one.
[[nodiscard]] std::optional<Profile> read_profile(const SourceSet& sources, SourceId source,
                                                  Diagnostics& diagnostics);

}  // namespace slipcase::profile
