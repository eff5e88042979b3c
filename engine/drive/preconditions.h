// What must be so before a learning drive, and what the card proves of it.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "drive/card_facts.h"
#include "profile/profile.h"
#include "slipcase/drive.h"

namespace slipcase::drive {

/// What is asked of the card: whether the drive may begin, or whether one that was driven could
/// teach anything. A drive since the clearing speaks against the first only: another one may
/// follow.
enum class Asked : std::uint8_t { before_drive, after_drive };

/// After the drive without what no card can say.
[[nodiscard]] std::vector<Precondition> preconditions(const CardFacts& card,
                                                      const profile::Profile& unit,
                                                      const profile::Procedure& procedure,
                                                      Asked asked);

/// The day of the last clearing of values or codes that the card knows; empty: of none.
[[nodiscard]] std::string day_of_clearing(const CardFacts& card,
                                          const profile::Procedure& procedure);

}  // namespace slipcase::drive
