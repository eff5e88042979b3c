// The few words that every report uses alike.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "slipcase/ranking.h"

namespace slipcase::report {

/// How far a factor on the odds moves them: "slightly" up to 1.5 times, "somewhat" up to 3,
/// "clearly" up to 10, "strongly" beyond. The steps follow the half-decade grades of H. Jeffreys,
/// Theory of Probability (1961), appendix B, with one finer step below.
[[nodiscard]] std::string_view strength_word(double log_factor);

/// What is there and still speaks against a cause that shows it.
[[nodiscard]] bool fits_others_better(FindingState state, double log_factor);

/// "Burnt smell", "not so: Burnt smell", with the grade behind: "Flares (always)".
[[nodiscard]] std::string seen_text(std::string_view says, FindingState state,
                                    std::string_view grade);

[[nodiscard]] std::string_view state_word(FindingState state);

/// "a, b, c"
[[nodiscard]] std::string joined(const std::vector<std::string>& parts);

/// "a, b and c", with the word that is to stand before the last.
[[nodiscard]] std::string joined(const std::vector<std::string>& parts, std::string_view last_word);

}  // namespace slipcase::report
