// What must be so before a learning drive, and what the card proves of it.
#pragma once

#include <vector>

#include "drive/card_facts.h"
#include "profile/profile.h"
#include "slipcase/drive.h"

namespace slipcase::drive {

[[nodiscard]] std::vector<Precondition> preconditions(const CardFacts& card,
                                                      const profile::Profile& unit,
                                                      const profile::Procedure& procedure);

}  // namespace slipcase::drive
