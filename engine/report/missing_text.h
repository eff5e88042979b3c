// What is not known and would matter, on the screen of a ranking.
#pragma once

#include <string>

#include "slipcase/report.h"

namespace slipcase::report {

[[nodiscard]] std::string missing_section(const Ranking& ranking, const TextStyle& style);

}  // namespace slipcase::report
