// A logged drive held against a procedure.
#pragma once

#include "drive/drive_log.h"
#include "profile/profile.h"
#include "slipcase/drive.h"

namespace slipcase::drive {

/// Without the job's and the unit's names, what the card adds, and the record.
[[nodiscard]] DriveCheck check_log(const DriveLog& log, const profile::Profile& unit,
                                   const profile::Procedure& procedure);

}  // namespace slipcase::drive
