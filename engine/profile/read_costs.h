// What work costs a shop: four keys of a profile, or of a file of the shop's own.
#pragma once

#include <optional>

#include "facts/node_reader.h"
#include "profile/profile.h"
#include "slipcase/diagnostic.h"
#include "slipcase/source.h"

namespace slipcase::profile {

/// Asks `map` for the four keys; what is wrong with one is reported and the key left out.
[[nodiscard]] WorkCosts read_costs(facts::MapReader& map, Diagnostics& diagnostics);

/// A file with nothing but these keys. Nothing comes back if anything in it is wrong.
[[nodiscard]] std::optional<WorkCosts> read_costs_file(const SourceSet& sources, SourceId source,
                                                       Diagnostics& diagnostics);

}  // namespace slipcase::profile
