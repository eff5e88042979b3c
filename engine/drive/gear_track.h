// Which gear was held when: the rows of a log as stretches of one gear each.
#pragma once

#include <vector>

#include "drive/drive_log.h"
#include "profile/profile.h"

namespace slipcase::drive {

/// Rows from `begin` to `end` (one behind the last) in one gear.
struct Stretch {
  GearCode gear = unknown_gear;
  std::size_t begin = 0;
  std::size_t end = 0;
};

struct GearTrack {
  std::vector<Stretch> stretches;    // of known gears, in their order
  bool from_speeds = false;          // not from a column
  std::size_t open_engagements = 0;  // at standstill, into which gear is not known
};

/// A gear counts once it was there for a fifth of a second, so that noise makes no shift. Where no
/// gear is logged it is the one whose ratio the two speeds have.
[[nodiscard]] GearTrack track_gears(const DriveLog& log, const profile::Profile& unit,
                                    double standstill);

}  // namespace slipcase::drive
