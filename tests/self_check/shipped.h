// The shipped rules, and the histories of the shipped cards that jobs are drawn for.
//
// The rate of a cause depends on what happened to the car: `becomes`, `possible only` and `never`
// ask events, details and readings, which are on a card and not in the network. So every drawn job
// takes these answers from one of the shipped cards; from that card's findings it takes nothing.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "api/parts.h"
#include "slipcase/knowledge.h"

namespace self_check {

using slipcase::grounding::GroundCause;
using slipcase::grounding::GroundFinding;
using slipcase::grounding::GroundRules;
using slipcase::network::HiddenId;
using slipcase::network::Network;
using slipcase::network::Observation;

struct History {
  std::string card;
  slipcase::evaluation::Evaluation states;  // as the card has it
  Network network;                          // with the rates that follow
};

struct Shipped {
  slipcase::Knowledge knowledge;
  std::vector<History> histories;  // by name of the card

  [[nodiscard]] const slipcase::model::RuleNetwork& rules() const {
    return knowledge.parts().network;
  }
  [[nodiscard]] const GroundRules& ground() const { return *knowledge.parts().ground; }
};

/// Throws with the messages as text when something does not load.
[[nodiscard]] Shipped load_shipped(const std::filesystem::path& folder);

/// Which causes take their rate from an answer that is drawn anew all the same (`onset` is a detail
/// and the finding `came_suddenly`): there drawn history and drawn findings can contradict.
[[nodiscard]] std::vector<std::string> causes_with_drawn_history(const Shipped& shipped);

}  // namespace self_check
