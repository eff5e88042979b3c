// Exact inference in a noisy-OR network: posteriors, the chance of the evidence, for one set of
// evidence or for many at once.
//
// Method: one sweep forward and one back over the sets of "already fired" nodes (sweep.h), in an
// order found for the evidence at hand (layout.h). All terms are non-negative, so no digits are
// lost to cancellation. The cost is 2^width; a job too wide for the memory is refused, never
// approximated.
// Limits: a weight below 1e-308 of the largest one beside it counts as zero.
#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <span>
#include <variant>
#include <vector>

#include "network/network.h"
#include "network/wiring.h"

namespace slipcase::network {

struct SolverOptions {
  std::size_t memory_bytes = std::size_t{2} << 30;
  double search_effort = 1.0;    // how much of a sweep's time to spend on a cheaper order
  bool all_insides = false;      // posteriors also for insides below which nothing is known
  unsigned forced_branches = 0;  // split on that many hidden nodes though it is not needed (tests)
  std::size_t plans_kept = 2048;
  unsigned threads = 0;  // for batches; 0: as many as the machine has. The results are the same
};

class Aftermath;
struct FailedRepairs;

struct Posterior {
  std::vector<Probability>
      hidden;                     // present / absent, both summed up, neither formed from the other
  std::vector<HiddenId> skipped;  // insides with nothing known below, see all_insides; no value
  double log_evidence = 0;
  unsigned width = 0;
};

/// The order found needs 2^width states and more memory than allowed.
struct TooWide {
  unsigned width = 0;
  double bytes_needed = 0;
};

/// The evidence has chance zero.
struct Impossible {};

using Outcome = std::variant<Posterior, TooWide, Impossible>;

/// ln P(evidence), or why there is none.
using LogEvidence = std::variant<double, TooWide, Impossible>;

struct PlanInfo {
  unsigned width = 0;     // most open bits at once
  double operations = 0;  // states touched in a forward sweep, all steps
  double bytes = 0;       // working memory of one set of numbers
  std::size_t steps = 0;
  unsigned extra_sweeps = 0;  // for nodes with nothing known below
  bool branches = false;      // too wide in one piece: split on hidden nodes
};

/// Keeps the plans and working memory of former calls. Not for two threads at once; batches use
/// several of their own.
class Solver {
 public:
  explicit Solver(const Network& network, SolverOptions options = {});
  /// After repairs (aftermath.h): ids and numbers stay those of `network`, a posterior is that of
  /// being there now.
  Solver(const Network& network, const FailedRepairs& failed, SolverOptions options = {});
  ~Solver();
  Solver(Solver&&) noexcept;
  Solver& operator=(Solver&&) noexcept;

  [[nodiscard]] Outcome solve(const Evidence& evidence);
  [[nodiscard]] LogEvidence log_evidence(const Evidence& evidence);
  /// The same under the numbers of another network of this one's shape.
  [[nodiscard]] LogEvidence log_evidence(const Evidence& evidence, const Network& network);

  /// As solve() one by one; those that share a plan go eight at a time.
  [[nodiscard]] std::vector<Outcome> solve_batch(std::span<const Evidence> evidence);
  [[nodiscard]] std::vector<LogEvidence> log_evidence_batch(std::span<const Evidence> evidence);

  /// The same evidence under other numbers; every network must have this one's shape.
  [[nodiscard]] std::vector<Outcome> solve_networks(const Evidence& evidence,
                                                    std::span<const Network> networks);

  /// The same with the numbers laid out flat, as read_numbers() gives them for this network.
  [[nodiscard]] std::vector<Outcome> solve_numbers(const Evidence& evidence,
                                                   std::span<const Numbers> numbers);
  [[nodiscard]] const Wiring& wiring() const;

  /// Searches for orders start from the one found for this evidence from now on: much faster where
  /// later questions are much like it. Orders, and with them the last digits, may become others.
  void start_orders_from(const Evidence& evidence);

  /// The same with the order that `other`, the solver of a like network, starts from.
  void start_orders_like(const Solver& other, const Likeness& likeness);

  [[nodiscard]] PlanInfo plan_info(const Evidence& evidence);
  void forget_plans();

  [[nodiscard]] std::size_t hidden_count() const;
  [[nodiscard]] bool is_cause(HiddenId id) const;

 private:
  class Impl;
  [[nodiscard]] Evidence seen_from_inside(const Evidence& evidence) const;
  [[nodiscard]] std::vector<Evidence> seen_from_inside(std::span<const Evidence> evidence) const;
  [[nodiscard]] Outcome seen_from_outside(Outcome outcome) const;
  [[nodiscard]] std::vector<Outcome> seen_from_outside(std::vector<Outcome> outcomes) const;
  [[nodiscard]] Numbers numbers_of(const Network& network) const;

  std::unique_ptr<Aftermath> aftermath_;  // null: none
  std::unique_ptr<Impl> impl_;
};

}  // namespace slipcase::network
