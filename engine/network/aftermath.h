// A job after repairs that did not end its complaint, behind the ids of the plain network.
//
// That the complaint stayed is evidence: something that was left had fired it. The split network
// (cure_split.h) has a finding that says just that. Questions and answers are in the ids of the
// plain network; a node's posterior is the chance that it is there now, after the repairs.
#pragma once

#include <optional>
#include <vector>

#include "network/cure_split.h"
#include "network/solver.h"
#include "network/wiring.h"

namespace slipcase::network {

/// What was done, and what stayed as it was: the findings of the complaint that were there.
struct FailedRepairs {
  std::vector<Cure> cures;
  std::vector<FindingId> complaint;

  [[nodiscard]] bool empty() const { return cures.empty() || complaint.empty(); }
};

class Aftermath {
 public:
  Aftermath(const Network& plain, const FailedRepairs& failed);

  [[nodiscard]] const Wiring& plain_wiring() const { return plain_wiring_; }
  [[nodiscard]] const Network& network() const { return split_; }

  /// Numbers of the plain network's shape, as the split one has them.
  [[nodiscard]] Network split(const Network& plain);
  [[nodiscard]] Numbers split(const Numbers& plain);

  /// A node of which nothing can be left is impossible to hold present.
  [[nodiscard]] Evidence split(const Evidence& plain) const;

  [[nodiscard]] Posterior joined(const Posterior& split) const;

 private:
  Network plain_;
  Wiring plain_wiring_;
  CureSplitter splitter_;
  Network split_;
  Wiring split_wiring_;
  FindingId stayed_;
  std::vector<std::optional<HiddenId>> now_;  // per plain node: the one that says it is left
};

}  // namespace slipcase::network
