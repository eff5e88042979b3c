// From a job's facts to the state of every finding, distrust and condition.
#pragma once

#include <cstdint>
#include <memory>
#include <vector>

#include "evaluation/conditions.h"
#include "evaluation/job_facts.h"
#include "evaluation/states.h"
#include "grounding/ground.h"

namespace slipcase::evaluation {

/// Keeps one job and what was worked out for it, so that a changed answer costs only what hangs on
/// it. One evaluator serves one thread; the rules may be shared.
class Evaluator {
 public:
  explicit Evaluator(std::shared_ptr<const grounding::GroundRules> rules);
  Evaluator(const Evaluator&) = delete;
  Evaluator& operator=(const Evaluator&) = delete;

  /// Everything from the start. The result stays good until the next call.
  const Evaluation& evaluate(const JobFacts& facts);

  /// The same as `evaluate` with that one fact changed. Only after `evaluate`.
  const Evaluation& change_answer(GroundFinding finding, const Answer& answer);
  const Evaluation& change_detail(GroundDetail detail, const DetailFact& fact);
  const Evaluation& change_reading(GroundReading reading, std::uint32_t snapshot,
                                   const ReadingFact& fact);

  [[nodiscard]] const JobFacts& facts() const { return facts_; }
  [[nodiscard]] const Evaluation& current() const { return evaluation_; }
  [[nodiscard]] const grounding::GroundRules& rules() const { return *rules_; }

  /// For explaining what was just evaluated.
  [[nodiscard]] Conditions& conditions() { return conditions_; }
  [[nodiscard]] const SetAside& set_aside() const { return set_aside_; }

 private:
  void size_up();
  void run_step(std::uint32_t position);
  void run_finding(std::uint32_t position, GroundFinding finding);
  void run_distrust(std::uint32_t distrust);
  void run_line(std::uint32_t line);
  [[nodiscard]] FindingState worked_out(GroundFinding finding);
  [[nodiscard]] FindingState settled(std::uint32_t position, GroundFinding finding,
                                     bool& contradicts);
  [[nodiscard]] std::optional<std::uint32_t> set_aside_by(GroundFinding finding) const;
  [[nodiscard]] std::optional<std::uint32_t> withheld_by(std::uint32_t position,
                                                         GroundFinding finding) const;
  void look_for_clashes(std::uint32_t position, GroundFinding finding);

  void mark(const grounding::Lists& lists, std::size_t index);
  void mark_step(std::uint32_t step) { dirty_[step] = true; }
  void mark_readings_of(std::uint32_t distrust);
  const Evaluation& run_marked();

  void finish();
  void leave_out();
  void list_undecided();
  void judge_causes();

  std::shared_ptr<const grounding::GroundRules> rules_;
  JobFacts facts_;
  Conditions conditions_;

  std::vector<FindingState> states_;  // before `at most one`
  std::vector<FindingView> views_;
  std::vector<bool> contradicts_;
  std::vector<Truth> distrusts_;  // as of now
  SetAside set_aside_;
  bool anything_aside_ = false;  // false only if no distrust has held for this job
  std::vector<bool> dirty_;      // per consumer
  bool marking_ = false;

  Evaluation evaluation_;
};

/// The same for a single job.
[[nodiscard]] Evaluation evaluate(std::shared_ptr<const grounding::GroundRules> rules,
                                  const JobFacts& facts);

}  // namespace slipcase::evaluation
