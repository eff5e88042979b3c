// "8 of 10 jobs", "raised or more in 7, high in 5 of 10 jobs": from words to checked counts.
#pragma once

#include <optional>
#include <string_view>

#include "rulebase/context.h"

namespace slipcase::rulebase {

[[nodiscard]] std::optional<units::Count> resolve_count(Context& context,
                                                        const language::CountPhrase& phrase);

/// `together` is only right where several are meant.
[[nodiscard]] std::optional<CountLine> resolve_count_line(Context& context,
                                                          const language::CountPhrase& phrase,
                                                          bool several);

/// The grades of a finding as its declaration lists them, weakest first; empty if it has none.
[[nodiscard]] std::optional<GradedLine> resolve_graded(Context& context,
                                                       const language::GradedCount& count,
                                                       const std::vector<GradeLine>& grades,
                                                       std::string_view thing, bool several);

/// Number of a grade, 1 the weakest; reports one that is not known.
[[nodiscard]] std::optional<std::uint32_t> resolve_grade(Context& context,
                                                         const language::Word& word,
                                                         const std::vector<GradeLine>& grades,
                                                         std::string_view thing);

}  // namespace slipcase::rulebase
