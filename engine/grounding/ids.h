// Numbers of ground things.
#pragma once

#include "rulebase/unit_vocabulary.h"
#include "slipcase/ids.h"

namespace slipcase::grounding {

using rulebase::MemberId;
using rulebase::ScopeId;

using GroundDetail = Id<struct GroundDetailTag>;
using GroundReading = Id<struct GroundReadingTag>;
using GroundEvent = Id<struct GroundEventTag>;
using GroundFinding = Id<struct GroundFindingTag>;
using GroundInside = Id<struct GroundInsideTag>;
using GroundCause = Id<struct GroundCauseTag>;
using GroundCheck = Id<struct GroundCheckTag>;
using GroundRepair = Id<struct GroundRepairTag>;

using ProgramId = Id<struct ProgramTag>;

}  // namespace slipcase::grounding
