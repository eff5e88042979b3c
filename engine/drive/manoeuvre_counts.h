// How often elements learned and manoeuvres were driven, and why the rest does not count.
#pragma once

#include <vector>

#include "drive/learning_events.h"

namespace slipcase::drive {

/// Per element of the profile, in its order.
[[nodiscard]] std::vector<ElementEvents> count_elements(const std::vector<ShiftEvent>& events,
                                                        const DriveLog& log,
                                                        const profile::Profile& unit,
                                                        const profile::Procedure& procedure);

/// Per manoeuvre that a log can show.
[[nodiscard]] std::vector<ManoeuvreTimes> count_manoeuvres(const std::vector<ShiftEvent>& events,
                                                           const GearTrack& track,
                                                           const LogRows& rows, const DriveLog& log,
                                                           const profile::Profile& unit,
                                                           const profile::Procedure& procedure);

}  // namespace slipcase::drive
