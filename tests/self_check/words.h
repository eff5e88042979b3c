// The tables of the page, in plain words.
#pragma once

#include <string>
#include <vector>

#include "self_check/page.h"

namespace self_check {

/// "12.3 of 100"
[[nodiscard]] std::string of_100(std::size_t hits, std::size_t total);
[[nodiscard]] std::string of_100(double share);
/// With the interval in which the share lies with 95 of 100 (Clopper and Pearson):
/// "66.1 of 100 (65.2 to 67.0)"
[[nodiscard]] std::string of_100_within(std::size_t hits, std::size_t total);
/// "`a`, `b`"
[[nodiscard]] std::string list_of(const std::vector<std::string>& names);

[[nodiscard]] std::string table_of_settings(const Results& results);
[[nodiscard]] std::string table_of_bands(const Run& run);
/// The causes whose chances came true least, where one of two findings was named and where both
/// were known.
[[nodiscard]] std::string table_of_worst_causes(const Results& results);
[[nodiscard]] std::string table_of_known_shares();
[[nodiscard]] std::string table_of_absent(const AbsentRun& run);
[[nodiscard]] std::string table_of_pairs(const AbsentRun& run);

}  // namespace self_check
