// What the columns of a logged drive mean.
#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <optional>
#include <string>

#include "facts/table.h"
#include "profile/profile.h"
#include "slipcase/diagnostic.h"

namespace slipcase::drive {

enum class Meaning : std::uint8_t {
  time,
  vehicle_speed,
  turbine_speed,
  output_speed,
  pedal,
  fluid_temperature,
  gear,
};
inline constexpr std::size_t meaning_count = 7;
[[nodiscard]] std::string_view name_of(Meaning meaning);

/// A gear by its place in the profile's list.
using GearCode = std::int8_t;
inline constexpr GearCode unknown_gear = -1;
/// Neutral stands behind the last gear.
[[nodiscard]] GearCode neutral_of(const profile::Profile& unit);
/// "N" or the name of a gear.
[[nodiscard]] std::string gear_name(const profile::Profile& unit, GearCode gear);

struct LogMapping {
  facts::TableFormat format;
  std::vector<facts::WantedColumn> wanted;
  std::array<std::optional<std::size_t>, meaning_count> column;  // place in `wanted`
  std::map<std::string, GearCode, std::less<>> gears;            // what the gear column may say

  [[nodiscard]] std::optional<std::size_t> at(Meaning meaning) const {
    return column[static_cast<std::size_t>(meaning)];
  }
};

/// Time, vehicle speed, pedal and fluid temperature are needed, and the gear or both speeds.
[[nodiscard]] std::optional<LogMapping> read_log_mapping(const SourceSet& sources, SourceId source,
                                                         const profile::Profile& unit,
                                                         Diagnostics& diagnostics);

}  // namespace slipcase::drive
