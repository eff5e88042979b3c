// Files into sources, with what went wrong as messages.
#pragma once

#include <filesystem>
#include <optional>

#include "slipcase/diagnostic.h"
#include "slipcase/knowledge.h"
#include "support/files.h"

namespace slipcase::api {

inline constexpr std::uintmax_t most_profile_bytes = std::uintmax_t{4} << 20U;
inline constexpr std::uintmax_t most_rule_bytes = std::uintmax_t{16} << 20U;

/// Reports the failure; says whether the input or the machine is at fault.
[[nodiscard]] Loaded report(const FileFailure& failure, Diagnostics& diagnostics);

[[nodiscard]] Loaded worse(Loaded a, Loaded b);

}  // namespace slipcase::api
