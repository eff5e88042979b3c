// Rules, unit and job card from texts, all the way to an evaluation.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "evaluation/evaluator.h"
#include "support/ground_bench.h"

namespace slipcase::test {

/// Rule text without its first lines, ready for jobs of the invented six-speed. Throws with the
/// rendered messages if a text does not resolve: a slip in a test.
class JobBench {
 public:
  explicit JobBench(std::string_view rules);

  [[nodiscard]] const grounding::GroundRules& rules() const { return *bench_.ground; }
  [[nodiscard]] const std::shared_ptr<const grounding::GroundRules>& shared_rules() const {
    return bench_.ground;
  }

  [[nodiscard]] const SourceSet& sources() const { return bench_.sources; }

  /// A card without `opened` gets `opened: 2031-04-17`, the day tests count from.
  [[nodiscard]] evaluation::JobFacts facts(std::string_view card);
  [[nodiscard]] evaluation::Evaluation evaluate(std::string_view card);
  /// State of a finding: "present", "absent", "unknown", "left out", "set aside".
  [[nodiscard]] std::string state(std::string_view finding, std::string_view card);

  /// "3:8 card-unknown-name" for everything said about a card (lines as in the text given).
  [[nodiscard]] std::vector<std::string> messages(std::string_view card);
  /// The text of the first of them.
  [[nodiscard]] std::string message_text(std::string_view card);

  [[nodiscard]] grounding::GroundFinding finding(std::string_view name) const;
  [[nodiscard]] grounding::GroundCause cause(std::string_view name) const;

 private:
  std::optional<evaluation::JobFacts> bind(std::string_view card, Diagnostics& diagnostics);

  GroundBench bench_;
};

[[nodiscard]] std::string text_of(evaluation::State state);

}  // namespace slipcase::test
