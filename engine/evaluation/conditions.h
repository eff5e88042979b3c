// Runs the flat code of conditions over one job.
#pragma once

#include <cstdint>
#include <vector>

#include "evaluation/history.h"
#include "evaluation/readings.h"
#include "grounding/ground.h"

namespace slipcase::evaluation {

/// What conditions see of a finding: the grades it has at least and at most.
struct FindingView {
  std::uint32_t at_least = 0;
  std::uint32_t at_most = 0;
  bool clashes = false;  // with another of an `at most one`

  friend bool operator==(const FindingView&, const FindingView&) = default;
};

/// Everything a condition can ask about, and all that was worked out for it already. The owner
/// calls `start` for a new job and `forget` for values whose inputs changed.
class Conditions {
 public:
  explicit Conditions(const grounding::GroundRules& rules);

  struct Job {
    const JobFacts* facts = nullptr;
    const std::vector<FindingView>* findings = nullptr;
    const SetAside* set_aside = nullptr;            // per distrust and snapshot
    const std::vector<Truth>* distrusts = nullptr;  // per distrust, as of now
  };
  void start(const Job& job);

  /// As of now: what was worked out once is kept.
  [[nodiscard]] Truth holds(grounding::ProgramId program);
  /// As of the day of a snapshot. Different snapshots share nothing.
  [[nodiscard]] Truth holds_at(grounding::ProgramId program, std::uint32_t snapshot);
  [[nodiscard]] Interval value(std::uint32_t value) { return value_of(value, now_); }

  void forget(std::uint32_t value) { now_.value_stamps[value] = 0; }

  /// Of one instruction, apart from the others.
  [[nodiscard]] Truth truth_of(const grounding::Instruction& instruction);
  [[nodiscard]] bool is_aside(GroundDetail detail, std::uint32_t exempt) const;

 private:
  /// What is known already as of one moment; an entry counts if its stamp is the current one.
  struct Known {
    AsOf as_of;
    std::uint32_t stamp = 1;
    std::vector<Interval> values;
    std::vector<std::uint32_t> value_stamps;
    std::vector<Truth> answers;
    std::vector<std::uint32_t> answer_stamps;

    void restart();
  };

  [[nodiscard]] Truth run(const grounding::Program& program, Known& known);
  [[nodiscard]] Truth leaf(const grounding::Instruction& instruction, Known& known);
  [[nodiscard]] Truth detail(const grounding::Instruction& instruction) const;
  [[nodiscard]] Truth finding(const grounding::Instruction& instruction) const;
  [[nodiscard]] Truth answer(std::uint32_t question, Known& known);
  [[nodiscard]] const Interval& value_of(std::uint32_t value, Known& known);
  [[nodiscard]] Interval worked_out(const grounding::ValueNode& node, Known& known);
  [[nodiscard]] Interval of_detail(const grounding::ValueNode& node) const;
  [[nodiscard]] Interval aggregate(const grounding::ValueNode& node, Known& known);

  const grounding::GroundRules& rules_;
  Job job_;
  Known now_;
  Known then_;
  std::vector<Truth> stack_;
  std::vector<double> lows_;
  std::vector<double> highs_;
};

/// Largest less smallest of values that are known within bounds.
[[nodiscard]] Interval spread(const std::vector<Interval>& values);

}  // namespace slipcase::evaluation
