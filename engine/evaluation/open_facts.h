// What an undecided condition still waits for.
#pragma once

#include <variant>
#include <vector>

#include "evaluation/evaluator.h"

namespace slipcase::evaluation {

/// A fact that the card does not give. Codes count as one fact: they are read together.
struct CodesNotRead {
  friend auto operator<=>(const CodesNotRead&, const CodesNotRead&) = default;
};
using OpenFact =
    std::variant<GroundDetail, GroundReading, GroundEvent, GroundFinding, CodesNotRead>;

/// The facts that the undecided parts of the condition ask for and nobody gave, each once. Empty
/// when what is unknown cannot be helped by a further fact (a value that was set aside, a date that
/// fits both ways). A finding that nobody is asked for stands for what it is worked out from.
[[nodiscard]] std::vector<OpenFact> open_facts(Evaluator& evaluator,
                                               grounding::ProgramId condition);

}  // namespace slipcase::evaluation
