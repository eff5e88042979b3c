// The profile that paths to rules name.
#pragma once

#include <optional>

#include "profile/profile.h"
#include "slipcase/diagnostic.h"
#include "slipcase/knowledge.h"

namespace slipcase::api {

struct ProfileText {
  Loaded outcome = Loaded::input_errors;  // good as soon as the file could be read
  std::optional<SourceId> source;
};

/// Only the text, so that it can be read while other files are.
[[nodiscard]] ProfileText load_profile_text(const RulePaths& paths, SourceSet& sources,
                                            Diagnostics& diagnostics);

struct ProfileLoad {
  Loaded outcome = Loaded::input_errors;  // good as soon as the file could be read
  std::optional<profile::Profile> profile;
};

[[nodiscard]] ProfileLoad load_profile(const RulePaths& paths, SourceSet& sources,
                                       Diagnostics& diagnostics);

}  // namespace slipcase::api
