// Results as text for a terminal and as JSON. Nothing here computes.
#pragma once

#include <memory>
#include <span>
#include <string>

#include "slipcase/add_reading.h"
#include "slipcase/ask.h"
#include "slipcase/book.h"
#include "slipcase/compare.h"
#include "slipcase/drive.h"
#include "slipcase/next.h"
#include "slipcase/ranking.h"
#include "slipcase/reasons.h"
#include "slipcase/review.h"
#include "slipcase/rules_list.h"
#include "slipcase/service.h"
#include "slipcase/trend.h"
#include "slipcase/trials.h"

namespace slipcase {

struct TextStyle {
  std::size_t width = 80;  // columns; never less than 40
  bool colour = false;     // only ever adds to what the words say
};

[[nodiscard]] std::string to_text(const Ranking& ranking, const TextStyle& style = {});
[[nodiscard]] std::string to_text(const Reasons& reasons, const TextStyle& style = {});
[[nodiscard]] std::string to_text(const RulesList& list, bool rates, const TextStyle& style = {});
/// `all`: also each shipped trial that came out.
[[nodiscard]] std::string to_text(const TrialsRun& run, const TextStyle& style = {},
                                  bool all = true);
/// Not `all`: what fits on two screens.
[[nodiscard]] std::string to_text(const NextAdvice& advice, const TextStyle& style = {},
                                  bool all = true);
[[nodiscard]] std::string to_text(const Review& review, const TextStyle& style = {});
[[nodiscard]] std::string to_text(const ComplaintGone& gone, const TextStyle& style = {});
[[nodiscard]] std::string to_text(const NoComplaint&, const TextStyle& style = {});
[[nodiscard]] std::string to_text(const Comparisons& comparisons, const TextStyle& style = {});
/// `all`: also plots of readings that did not move.
[[nodiscard]] std::string to_text(const VehicleTrend& trend, const TextStyle& style = {},
                                  bool all = false);
[[nodiscard]] std::string to_text(const Question& question, const TextStyle& style = {});
/// Why the question is asked, and what it would separate.
[[nodiscard]] std::string why_text(const Question& question, const TextStyle& style = {});
/// Numbered, the first `most` of them.
[[nodiscard]] std::string to_text(std::span<const QuestionGroup> groups, std::size_t most,
                                  const TextStyle& style = {});
[[nodiscard]] std::string parts_text(const QuestionGroup& group, const TextStyle& style = {});
[[nodiscard]] std::string cautions_text(std::span<const CautionReport> cautions,
                                        const TextStyle& style = {});
[[nodiscard]] std::string to_text(const NothingToAsk& nothing, const TextStyle& style = {});
[[nodiscard]] std::string to_text(const BookList& list, const TextStyle& style = {});
[[nodiscard]] std::string to_text(const CardAccount& account, const TextStyle& style = {});
[[nodiscard]] std::string to_text(const BookCheck& check, const TextStyle& style = {});
[[nodiscard]] std::string to_text(const AddedReadings& added, const TextStyle& style = {});
[[nodiscard]] std::string to_text(const GearRatios& ratios, const TextStyle& style = {});
[[nodiscard]] std::string to_text(const FluidLevel& level, const TextStyle& style = {});
[[nodiscard]] std::string to_text(const CodeMeanings& meanings, const TextStyle& style = {});
[[nodiscard]] std::string to_text(const DriveSheet& sheet, const TextStyle& style = {});
[[nodiscard]] std::string to_text(const DriveCheck& check, const TextStyle& style = {});
[[nodiscard]] std::string to_text(const NoProcedure& none, const TextStyle& style = {});
[[nodiscard]] std::string to_text(const ImpossibleEvidence& impossible,
                                  const TextStyle& style = {});
[[nodiscard]] std::string to_text(const TooWide& wide, const TextStyle& style = {});

/// One JSON object; docs/json.md lists the fields. Numbers read back exactly; an infinite number is
/// null.
[[nodiscard]] std::string to_json(const Ranking& ranking);
[[nodiscard]] std::string to_json(const Reasons& reasons);
[[nodiscard]] std::string to_json(const RulesList& list);
[[nodiscard]] std::string to_json(const TrialsRun& run);
[[nodiscard]] std::string to_json(const NextAdvice& advice);
[[nodiscard]] std::string to_json(const Review& review);
[[nodiscard]] std::string to_json(const ComplaintGone& gone);
[[nodiscard]] std::string to_json(const NoComplaint&);
[[nodiscard]] std::string to_json(const Comparisons& comparisons);
[[nodiscard]] std::string to_json(const VehicleTrend& trend);
[[nodiscard]] std::string to_json(const Question& question);
[[nodiscard]] std::string to_json(const NothingToAsk& nothing);
[[nodiscard]] std::string to_json(const BookList& list);
[[nodiscard]] std::string to_json(const CardAccount& account);
/// Messages and the texts that they point into; cards of several units have several.
struct CheckMessages {
  Diagnostics diagnostics;
  std::shared_ptr<const SourceSet> sources;
};
/// With every message.
[[nodiscard]] std::string to_json(const BookCheck& check, std::span<const CheckMessages> messages);
[[nodiscard]] std::string to_json(const AddedReadings& added);
[[nodiscard]] std::string to_json(const GearRatios& ratios);
[[nodiscard]] std::string to_json(const FluidLevel& level);
[[nodiscard]] std::string to_json(const CodeMeanings& meanings);
[[nodiscard]] std::string to_json(const DriveSheet& sheet);
[[nodiscard]] std::string to_json(const DriveCheck& check);
[[nodiscard]] std::string to_json(const NoProcedure& none);
[[nodiscard]] std::string to_json(const ImpossibleEvidence& impossible);
[[nodiscard]] std::string to_json(const TooWide& wide);

/// One JSON object with every message: name, severity, file, line, column, text.
[[nodiscard]] std::string to_json(const Diagnostics& diagnostics, const SourceSet& sources);

/// "about 6 of 10", "about 3 of 100", "more than 99 of 100".
[[nodiscard]] std::string in_plain_counts(Probability chance);

}  // namespace slipcase
