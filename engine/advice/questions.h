// The questionnaire: which question is the most useful next.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "advice/job_model.h"
#include "advice/rank_job.h"
#include "evaluation/evaluator.h"
#include "slipcase/ask.h"
#include "slipcase/source.h"

namespace slipcase::advice {

/// First what the car came for, then what decides whether evidence may be used, what a caution goes
/// with, codes that nobody read, then by what an answer tells for its minute: as in
/// missing_findings (missing.h) for what is seen; for a fact that rules about causes wait for, as
/// if it were so in one job of ten. `evaluator` holds the job.
[[nodiscard]] AskResult ask_next(JobModel& job, evaluation::Evaluator& evaluator,
                                 const JobTitle& title, std::span<const std::string> passed_over,
                                 const SourceSet& sources);

/// The question about one thing by its name on a card, with what the card says now.
[[nodiscard]] std::vector<QuestionGroup> questions_with(const grounding::GroundRules& ground,
                                                        std::string_view word);

[[nodiscard]] std::optional<Question> question_named(const grounding::GroundRules& ground,
                                                     const evaluation::JobFacts& facts,
                                                     std::string_view id);

}  // namespace slipcase::advice
