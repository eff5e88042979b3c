// A job card as plain text without places, so that two ways to write the same card can be compared.
#pragma once

#include <string>

#include "facts/job_card.h"

namespace slipcase::test {

[[nodiscard]] std::string text_of(const facts::JobCard& card);

}  // namespace slipcase::test
