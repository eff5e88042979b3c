// How what is not known becomes known: by which check, in how much time, or by asking.
#pragma once

#include <optional>
#include <vector>

#include "evaluation/job_facts.h"
#include "grounding/ground.h"

namespace slipcase::advice {

/// Asking one question takes about this long; common practice, no source.
inline constexpr double minutes_to_ask = 1.0;

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

  void add(grounding::GroundCheck check, const rulebase::AnswerTarget& target,
           std::optional<grounding::MemberId> member);
  void add_users(grounding::GroundCheck check, const grounding::Lists& users, std::uint32_t of);
  void offer(grounding::GroundCheck check, Best& list, std::uint32_t at);
  [[nodiscard]] bool taken(grounding::GroundReading reading) const;

  const grounding::GroundRules& ground_;
  const evaluation::JobFacts* facts_;
  std::vector<double> minutes_;  // per declaration
  Best findings_, readings_, details_;
};

}  // namespace slipcase::advice
