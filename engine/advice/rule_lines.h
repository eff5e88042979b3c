// The lines of the rules that a trial can depend on.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "rulebase/rulebase.h"
#include "slipcase/source.h"
#include "slipcase/trials.h"

namespace slipcase::advice {

/// The condition of a finding, or of one of its grades.
struct WorkedOutBy {
  rulebase::FindingId finding;
  std::optional<std::size_t> grade;  // index into Finding::grades
};
struct AtMostOneLine {
  std::size_t index = 0;  // into Rulebase::at_most_one
};

/// Points into the rule base it was listed from. However many members a line stands for, it is one.
struct RuleLine {
  RuleLineKind kind = RuleLineKind::cause;
  std::string of;
  Place place;
  std::variant<rulebase::CauseId, rulebase::FindingId, const rulebase::Becomes*,
               const rulebase::Restriction*, const rulebase::Link*, const rulebase::CauseLink*,
               const rulebase::Flag*, WorkedOutBy, AtMostOneLine, rulebase::DistrustId>
      what;
};

/// By kind, then in the order of the rules.
[[nodiscard]] std::vector<RuleLine> lines_of(const rulebase::Rulebase& rules);

/// The same rules without the line; only for what conditions decide: worked out, at most one,
/// distrust. Declarations keep their numbers.
[[nodiscard]] rulebase::Rulebase without(const rulebase::Rulebase& rules, const RuleLine& line);

}  // namespace slipcase::advice
