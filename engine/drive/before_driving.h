// What a card says that has to be looked at before anybody drives.
#pragma once

#include "drive/card_facts.h"
#include "evaluation/states.h"
#include "slipcase/drive.h"

namespace slipcase::drive {

/// Every caution of a finding that is there, whatever the rules call it, and every learned value at
/// its limit or beyond.
[[nodiscard]] BeforeDriving before_driving(const CardFacts& card,
                                           const evaluation::Evaluation& states);

}  // namespace slipcase::drive
