// What tells two causes apart.
//
// Both may be there, or neither; a finding separates them by how well it fits the one present
// without the other: P(f | this, not that, all else known) against P(f | that, not this, all else
// known). For what is not known yet the expected information about which of the two it is.
#pragma once

#include "advice/job_model.h"
#include "advice/ways.h"
#include "slipcase/reasons.h"

namespace slipcase::advice {

[[nodiscard]] Answer<Against> tell_apart(JobModel& job, const Ways& ways,
                                         const network::Posterior& now, GroundCause cause,
                                         GroundCause other);

}  // namespace slipcase::advice
