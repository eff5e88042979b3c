// Answers that were only tried, on every screen and in every JSON that they went into.
#pragma once

#include <string>
#include <vector>

#include "slipcase/job.h"

namespace slipcase::report {

/// A line for each below the title; nothing where nothing was supposed.
[[nodiscard]] std::string supposed_lines(const std::vector<Supposed>& supposed, std::size_t width);

}  // namespace slipcase::report
