// How what is not known becomes known: by which check, in how much time, or by asking.
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "evaluation/job_facts.h"
#include "grounding/ground.h"

namespace slipcase::advice {

/// Asking one question takes about this long; common practice, no source.
inline constexpr double minutes_to_ask = 1.0;

/// What a check gives: findings of its own, and with a reading or a detail every finding that is
/// worked out from it.
struct Given {
  std::vector<grounding::GroundFinding> findings;  // may name one several times
  std::vector<grounding::GroundReading> readings;
  std::vector<grounding::GroundDetail> details;
};
/// `is_wanted`: which readings count as given (one on the card need not be taken again).
[[nodiscard]] Given given_by(const grounding::GroundRules& ground, grounding::GroundCheck check,
                             const std::function<bool(grounding::GroundReading)>& is_wanted);

/// Some snapshot on the card has the reading.
[[nodiscard]] bool is_taken(const evaluation::JobFacts& facts, grounding::GroundReading reading);

/// Per finding, reading and detail the check that gives it in the least time.
class Ways {
 public:
  /// A reading that the card has needs no check; without `facts` no reading does.
  Ways(const grounding::GroundRules& ground, const evaluation::JobFacts* facts);

  /// A finding that is worked out from a reading or a detail comes with it.
  [[nodiscard]] std::optional<grounding::GroundCheck> to(grounding::GroundFinding finding) const {
    return findings_.at(finding.at());
  }
  [[nodiscard]] std::optional<grounding::GroundCheck> to(grounding::GroundReading reading) const {
    return readings_.at(reading.at());
  }
  [[nodiscard]] std::optional<grounding::GroundCheck> to(grounding::GroundDetail detail) const {
    return details_.at(detail.at());
  }

  /// With getting there; each access once.
  [[nodiscard]] double minutes(grounding::GroundCheck check) const {
    return minutes_.at(ground_.checks.origins.at(check.at()).declaration);
  }

 private:
  using Best = std::vector<std::optional<grounding::GroundCheck>>;

  void offer(grounding::GroundCheck check, Best& list, std::uint32_t at);

  const grounding::GroundRules& ground_;
  std::vector<double> minutes_;  // per declaration
  Best findings_, readings_, details_;
};

}  // namespace slipcase::advice
