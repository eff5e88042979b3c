// Repairs on the card after which the complaint was as before, or came back: that is evidence too.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "evaluation/job_facts.h"
#include "evaluation/states.h"
#include "model/rule_network.h"
#include "network/aftermath.h"

namespace slipcase::advice {

[[nodiscard]] inline bool helped_not(const evaluation::DoneRepairFact& done) {
  return done.complaint && *done.complaint != facts::ComplaintAfter::gone;
}

/// What a repair is to cure, without what follows it.
[[nodiscard]] std::vector<network::Cure> cures_of(const model::RuleNetwork& rules,
                                                  grounding::GroundRepair repair);

struct TriedInVain {
  std::vector<grounding::GroundRepair> repairs;  // in the order of the card, each once
  std::vector<Place> places;                     // of each, on the card
  /// Empty: nothing can be learned from them. What should have followed a repair stands on the card
  /// by itself, if it was done.
  network::FailedRepairs failed;

  /// The repair that was to cure it; the surest, if several were.
  [[nodiscard]] std::optional<grounding::GroundRepair> put_right(const model::RuleNetwork& rules,
                                                                 network::HiddenId cause) const;

  /// "It stayed as it was after: Renew the seal; Flush the cooler"
  [[nodiscard]] std::string says(const grounding::GroundRules& ground) const;
};

/// The repair that the card says the complaint went with, if that is its last word about it.
[[nodiscard]] std::optional<grounding::GroundRepair> repair_that_ended(
    const evaluation::JobFacts& facts);

[[nodiscard]] TriedInVain tried_in_vain(const model::RuleNetwork& rules,
                                        const evaluation::Evaluation& states,
                                        const evaluation::JobFacts& facts);

}  // namespace slipcase::advice
