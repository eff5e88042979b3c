// A logged drive as columns of numbers.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "drive/log_mapping.h"
#include "profile/profile.h"
#include "slipcase/diagnostic.h"

namespace slipcase::drive {

/// A value for every row. An empty cell has the value of the row above, or where there is none, the
/// first that comes. Pedal, speed and fluid are carried on like that for five seconds; behind that
/// they are not known (NaN).
struct DriveLog {
  std::string name;
  std::vector<double> time;         // ms; never falls
  std::vector<double> speed;        // m/s
  std::vector<double> pedal;        // 0 to 1
  std::vector<double> fluid;        // °C
  std::vector<double> turbine;      // rpm; empty: not logged
  std::vector<double> output;       // rpm; empty: not logged
  std::vector<GearCode> gear;       // empty: not logged
  std::vector<std::uint32_t> line;  // of the text, from 1

  [[nodiscard]] std::size_t rows() const { return time.size(); }
};

[[nodiscard]] std::optional<DriveLog> read_drive_log(const SourceSet& sources, SourceId source,
                                                     const LogMapping& mapping,
                                                     const profile::Profile& unit,
                                                     Diagnostics& diagnostics);

}  // namespace slipcase::drive
