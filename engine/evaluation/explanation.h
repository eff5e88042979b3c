// Why a finding is as it is: the conditions that were asked, what each came to, and the facts on
// the card behind it.
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "evaluation/evaluator.h"

namespace slipcase::evaluation {

/// One thing that was looked at. Without a place the card says nothing of it.
struct FactUsed {
  std::variant<GroundFinding, GroundDetail, GroundReading, GroundEvent, units::TroubleCode> what;
  std::string text;  // "fill_pressure of K2: 210 mbar"
  std::optional<Place> place;
};

/// A part of a condition that asks one thing.
struct ConditionPart {
  Place place;  // in the rules
  Truth truth = Truth::unknown;
  std::vector<FactUsed> facts;
};

struct GradeExplanation {
  std::uint32_t grade = 1;
  Place place;  // the whole condition
  Truth truth = Truth::unknown;
  std::vector<ConditionPart> parts;
};

struct Explanation {
  GroundFinding finding;
  FindingState state;
  Answer answer;
  std::vector<GradeExplanation> grades;  // those that are worked out, weakest first
};

/// Of the job the evaluator holds. Changes nothing.
[[nodiscard]] Explanation explain(Evaluator& evaluator, GroundFinding finding);

/// The facts that any condition asks, as of the day the job was opened; each once.
[[nodiscard]] std::vector<FactUsed> facts_behind(Evaluator& evaluator,
                                                 grounding::ProgramId condition);

}  // namespace slipcase::evaluation
