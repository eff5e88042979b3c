// The sheet of a learning drive: what the card proves, and what is to be driven.
#pragma once

#include "drive/card_facts.h"
#include "evaluation/states.h"
#include "profile/profile.h"
#include "slipcase/drive.h"

namespace slipcase::drive {

/// Without the job's and the unit's names.
[[nodiscard]] DriveSheet drive_sheet(const CardFacts& card, const evaluation::Evaluation& states,
                                     const profile::Profile& unit,
                                     const profile::Procedure& procedure);

/// A speed in km/h.
[[nodiscard]] double km_per_hour(double metres_per_second);

}  // namespace slipcase::drive
