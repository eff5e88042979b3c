// An answer that is tried without writing it on a card: `flare of 2-3=always`.
#pragma once

#include <optional>

#include "facts/job_card.h"
#include "facts/scalar.h"
#include "slipcase/diagnostic.h"
#include "slipcase/source.h"

namespace slipcase::facts {

struct Supposition {
  CardReference finding;
  Scalar answer;
};

/// The whole text is one supposition. Nothing comes back where its shape was reported; a name in it
/// may still be faulty.
[[nodiscard]] std::optional<Supposition> read_supposition(const SourceSet& sources, SourceId source,
                                                          Diagnostics& diagnostics);

}  // namespace slipcase::facts
