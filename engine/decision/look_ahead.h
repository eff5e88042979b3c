// Which check is worth doing before anything is repaired.
//
// One step of looking ahead on expected cost: a check is worth what the best repairs after its
// answer cost less than the best repairs now, all weighed by the chance of each answer (D.
// Heckerman, J. S. Breese, K. Rommelse, "Decision-theoretic troubleshooting", CACM 38(3), 1995).
// That is never below zero: who ignores the answer pays what was planned before. It leaves out that
// two checks may be worth something only together; docs/decisions.md says what that costs.
#pragma once

#include <cstddef>
#include <memory>
#include <span>
#include <vector>

#include "decision/repair_plan.h"

namespace slipcase::decision {

/// A check done and which of its answers came.
struct Answer {
  std::size_t check = 0;
  std::size_t outcome = 0;

  friend bool operator==(const Answer&, const Answer&) = default;
};
using Path = std::vector<Answer>;

/// What is known after answers. The chances of a check's outcomes add up to that of the path.
class Oracle {
 public:
  Oracle() = default;
  Oracle(const Oracle&) = delete;
  Oracle& operator=(const Oracle&) = delete;
  virtual ~Oracle() = default;

  [[nodiscard]] virtual Prospect now(const Path& path) = 0;
  /// One prospect per outcome; none when the check says nothing new or cannot be judged.
  [[nodiscard]] virtual std::vector<Prospect> after(const Path& path, std::size_t check) = 0;
};

struct CheckValue {
  std::size_t check = 0;
  double cost = 0;             // of the check itself, with what must be paid first
  double gain = 0;             // what it saves on average, its own cost not taken off
  std::vector<double> chance;  // per outcome

  [[nodiscard]] double net() const { return gain - cost; }
};

/// Every check that can change a plan, the one that saves most first. Costs and gains are per job
/// that gets here (not weighed).
[[nodiscard]] std::vector<CheckValue> value_checks(const Problem& problem, Oracle& oracle,
                                                   const Path& path, OnceSet paid,
                                                   std::span<const std::size_t> checks);

/// What to do, and what then.
struct PlanNode {
  struct Branch;
  double cost = 0;    // expected from here on, per job that gets here
  double chance = 1;  // of getting here
  std::size_t check = 0;
  std::vector<Branch> branches;  // per outcome of the check; empty: repair
  RepairPlan repairs;            // when nothing is checked
};
struct PlanNode::Branch {
  std::size_t outcome = 0;
  PlanNode then;
};

/// The plan of always doing the check that saves most, while one saves more than it costs, at most
/// `depth` checks in a row. Its cost is exact for that plan.
[[nodiscard]] PlanNode look_ahead(const Problem& problem, Oracle& oracle, const Path& path,
                                  OnceSet paid, std::span<const std::size_t> checks,
                                  std::size_t depth);

}  // namespace slipcase::decision
