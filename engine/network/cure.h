// Whether a repair ends the complaint, as one more question to the solver.
//
// A finding is made to show by events: each present parent fires it or not, its own rate fires it
// or not. The repair ends the complaint if nothing left behind was among what fired the complaint's
// findings. The chance of the evidence in the split network (cure_split.h), over its chance in the
// plain one, is the chance that the repair ends the complaint.
#pragma once

#include <span>

#include "network/cure_split.h"

namespace slipcase::network {

/// Findings keep their ids, so what else is known or supposed of findings outside the complaint may
/// be added to the evidence. Held nodes are not carried over.
struct CureQuestion {
  Network network;
  Likeness likeness;  // to the plain network
  Evidence evidence;  // impossible when the repair cannot have ended the complaint
};

/// The complaint: those of these findings that the evidence says are there.
[[nodiscard]] CureQuestion ended_by(const Network& network,
                                    std::span<const Observation> observations,
                                    std::span<const Cure> cures,
                                    std::span<const FindingId> complaint);

}  // namespace slipcase::network
