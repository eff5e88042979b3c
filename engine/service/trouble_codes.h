// What trouble codes mean on a unit.
#pragma once

#include <vector>

#include "profile/profile.h"
#include "slipcase/service.h"
#include "units/trouble_code.h"

namespace slipcase::service {

[[nodiscard]] CodeMeanings explain_codes(const profile::Profile& unit,
                                         const std::vector<units::TroubleCode>& codes);

}  // namespace slipcase::service
