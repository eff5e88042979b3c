// Ratios, steps and slip of a unit's gears.
#pragma once

#include <optional>

#include "profile/profile.h"
#include "slipcase/service.h"

namespace slipcase::service {

struct Speeds {
  std::optional<double> turbine;  // rpm
  std::optional<double> output;   // rpm, negative when the car rolls backwards
};

/// Without a gear the speeds are held against every gear.
[[nodiscard]] GearRatios gear_ratios(const profile::Profile& unit,
                                     std::optional<rulebase::MemberId> gear, const Speeds& speeds);

}  // namespace slipcase::service
