// Invented declarations that tests of single messages put behind the lines they are about.
#pragma once

#include <string>
#include <string_view>

#include "support/rules_text.h"

namespace slipcase::test {

inline constexpr std::string_view shop = R"(
detail odometer : distance
detail use : one of private, towing, taxi
detail tuned : yes or no
detail built : date
reading fill_pressure of element : pressure
reading fill_time of element : time
reading fluid_temperature : temperature
event values_cleared
event codes_cleared
event drum_rebuilt of element
finding flare of shift
    asks "Does it flare?" grade sometimes grade always
    otherwise sometimes or more in 4, always in 2 of 100 jobs
finding level_low asks "Is it low?" otherwise in 1 of 20 jobs
finding harsh of shift asks "Is it harsh?" otherwise in 1 of 20 jobs
inside slips of element
    otherwise in 1 of 100 jobs
    shows flare of each shift applying element in 8 of 10 jobs
cause lining_worn of element
    group hard_part
    found in 1 of 50 jobs
    shows slips of element in 9 of 10 jobs
cause regulator_worn
    found in 1 of 25 jobs
    shows level_low in 1 of 4 jobs
check look takes 5 minutes answers level_low
check air_check of element takes 30 minutes
    flags lining_worn of element in 14 of 20 bad, in 2 of 20 good
access unit_out takes 8 h
caution hot says "Hot."
repair overhaul takes 9 h needs unit_out cures lining_worn of each element, regulator_worn
)";

/// Messages for some lines with the shop's declarations behind them; the lines count from 2.
inline std::string with_shop(std::string_view lines) {
  return messages_of(std::string(lines) + std::string(shop));
}

/// The first message as people read it, without its place and excerpt.
inline std::string said_with_shop(std::string_view lines) {
  const Resolved resolved = resolve_text(std::string(lines) + std::string(shop));
  return resolved.diagnostics.empty() ? "" : resolved.diagnostics.list().front().text;
}

}  // namespace slipcase::test
