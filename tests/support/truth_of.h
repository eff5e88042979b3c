// One condition asked of one card.
#pragma once

#include <string>
#include <string_view>

namespace slipcase::test {

/// "yes", "no" or "unknown". The condition stands in the `when` of a finding without a scope,
/// beside the declarations of `truth_of.cpp`; the card needs no `opened`.
[[nodiscard]] std::string truth_of(std::string_view condition, std::string_view card);

}  // namespace slipcase::test
