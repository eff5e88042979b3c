// What a check could still tell on this visit.
//
// Reading again today what was read today tells nothing; and what needs readings of several visits
// (`change`, `slope`, `step`) is not answered by a fresh one while the earlier ones are missing.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <vector>

#include "advice/ways.h"
#include "evaluation/job_facts.h"
#include "evaluation/states.h"
#include "grounding/program.h"

namespace slipcase::advice {

struct OpenAnswers {
  std::vector<grounding::GroundFinding> findings;       // each once, also what is known already
  std::vector<grounding::GroundReading> still_missing;  // where the rest was read on this visit
  std::vector<grounding::GroundFinding> looked_at;      // asked beside readings that were read
};

/// The first distrust that holds back this value of this snapshot.
[[nodiscard]] std::optional<std::uint32_t> set_aside_by(const grounding::GroundRules& ground,
                                                        const evaluation::Evaluation& states,
                                                        grounding::GroundReading reading,
                                                        std::uint32_t snapshot);

class VisitReadings {
 public:
  VisitReadings(const grounding::GroundRules& ground, const evaluation::JobFacts& facts,
                const evaluation::Evaluation& states);

  using Readings = std::vector<grounding::GroundReading>;

  [[nodiscard]] OpenAnswers open_answers(grounding::GroundCheck check) const;

  /// Of what the check brings: what was not read on this visit, whether or not it may be used.
  [[nodiscard]] Readings not_taken(grounding::GroundCheck check) const;

 private:
  /// Recorded as done, and not known to be from before the job was opened.
  [[nodiscard]] bool done_on_visit(grounding::GroundCheck check) const;
  [[nodiscard]] bool is_earlier(const evaluation::Moment& moment) const;
  [[nodiscard]] bool is_taken_now(grounding::GroundReading reading) const;
  /// Read on this visit, nothing that resets it since, and may be used.
  [[nodiscard]] bool is_read(grounding::GroundReading reading) const;
  [[nodiscard]] bool is_set_aside(grounding::GroundReading reading, std::uint32_t snapshot) const;
  [[nodiscard]] bool reset_after(grounding::GroundReading reading, std::uint32_t snapshot) const;
  /// Usable values of earlier visits, at different odometers.
  [[nodiscard]] std::size_t earlier_values(grounding::GroundReading reading) const;
  [[nodiscard]] bool would_tell(const grounding::ValueNode& value, const Readings& fresh) const;
  [[nodiscard]] bool would_tell(grounding::GroundFinding finding, const Readings& fresh) const;

  const grounding::GroundRules& ground_;
  const evaluation::JobFacts& facts_;
  const evaluation::Evaluation& states_;
  std::map<std::uint32_t, int> ways_;  // per reading: how many checks bring it
};

}  // namespace slipcase::advice
