// Changes that are made on a card in one go, whoever else writes to it.
#pragma once

#include <functional>
#include <variant>
#include <vector>

#include "command_line.h"
#include "session.h"
#include "slipcase/card_value.h"

namespace slipcase::cli {

/// What is to be changed on a card as it stands; a status where that was refused and told.
using ChangesOf = std::function<std::variant<std::vector<CardChange>, Exit>(const LoadedCard&)>;

/// Reads the card, writes the changes, and does both again if somebody else wrote in between. The
/// card as it is then.
[[nodiscard]] std::variant<LoadedCard, Exit> change_card(const Request& request,
                                                         const std::filesystem::path& path,
                                                         const ChangesOf& changes_of);

}  // namespace slipcase::cli
