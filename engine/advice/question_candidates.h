// Questions that nobody answered yet, each with what its answer would tell.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "advice/card_gaps.h"
#include "advice/job_model.h"
#include "advice/ways.h"
#include "slipcase/ask.h"

namespace slipcase::advice {

struct Candidate {
  Question question;
  double information = 0.0;
  double guess = 0.0;                    // of what `weighed` tells
  std::optional<GroundFinding> weighed;  // the finding it decides that tells most
  const AwaitedFact* awaited = nullptr;  // of the open rules given
};

/// Of a finding's members the one that tells most, of a detail the finding that it decides, and
/// every event and detail that open rules wait for. Those that look most telling are weighed
/// exactly. `passed`: ids that are not to be asked now.
[[nodiscard]] std::vector<Candidate> question_candidates(
    JobModel& job, const evaluation::JobFacts& facts, const network::Posterior& before,
    const network::Posterior& now, const OpenRules& open, std::span<const std::string> passed);

/// At the counter only what needs no check; the driver can say it, whatever a drive would show.
[[nodiscard]] bool is_at_counter(const grounding::GroundRules& ground, const Ways& ways,
                                 GroundFinding finding);

[[nodiscard]] bool is_in(std::span<const std::string> list, const std::string& id);

}  // namespace slipcase::advice
