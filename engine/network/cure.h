// What a repair ends and what it leaves behind, as one more question to the solver.
//
// A finding is made to show by events: each present parent fires it or not, its own rate fires it
// or not. A cured cause fires no more; what it alone had set off (an inside) ends with it; a cause
// it had brought about stays until cured itself. The repair ends the complaint if nothing left
// behind was among what fired the complaint's findings. So each inside that cured and uncured
// causes both feed is split into "left: fired by what stays" and "cured: fired by what was cured
// alone", the second blocked by the first, and the complaint's findings may be fired by the cured
// part only. The chance of the evidence in that network, over its chance in the plain one, is the
// chance that the repair ends the complaint.
#pragma once

#include <span>
#include <vector>

#include "network/network.h"

namespace slipcase::network {

/// A repair's effect on one cause: `succeeds`, if the cause is there, ends it.
struct Cure {
  HiddenId cause;
  Probability succeeds;
};

/// Findings keep their ids, so what else is known or supposed of findings outside the complaint may
/// be added to the evidence. Held nodes are not carried over.
struct CureQuestion {
  Network network;
  Evidence evidence;  // impossible when the repair cannot have ended the complaint
};

/// The complaint: those of these findings that the evidence says are there.
[[nodiscard]] CureQuestion ended_by(const Network& network,
                                    std::span<const Observation> observations,
                                    std::span<const Cure> cures,
                                    std::span<const FindingId> complaint);

}  // namespace slipcase::network
