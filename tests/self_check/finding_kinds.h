// How a shop comes to know a finding, read off the rules: by what its condition asks and by the
// checks that answer it.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "self_check/shipped.h"

namespace self_check {

enum class Kind : std::uint8_t {
  told_of_all,     // stands once for the car: "does it shudder at a gentle cruise?"
  told_of_one,     // one of many: the flare of each shift, the slip in each gear
  seen,            // looked at or measured, without the lift
  on_lift,         // with the car on the lift
  opened,          // pan off and deeper
  check_result,    // the yes or no of a check that flags
  codes,           // worked out from trouble codes
  values,          // worked out from the learned values, or seen on them
  earlier_values,  // the same, from several visits
  log,             // worked out from a logged drive
};

/// Per ground finding; nothing where no cause shows it, for then it says nothing of any cause, and
/// where nobody can know it. Such findings are in no count here.
[[nodiscard]] std::vector<std::optional<Kind>> finding_kinds(const Shipped& shipped);

/// In a shop's words; also the row of a table.
[[nodiscard]] std::string_view words_for(Kind kind);

[[nodiscard]] inline bool is_told(Kind kind) {
  return kind == Kind::told_of_all || kind == Kind::told_of_one;
}

}  // namespace self_check
