// A second opinion on repairs that somebody intends. It reasons; the person who signs decides.
#pragma once

#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "slipcase/next.h"
#include "slipcase/reasons.h"

namespace slipcase {

enum class Verdict : std::uint8_t {
  not_yet,       // something must be done before this can be judged at all
  check_first,   // not yet: a check saves more on average than it costs
  other_repair,  // another repair is the better first step
  go_ahead,      // no cheaper way in sight
  no_use,        // it would hardly ever end the complaint
};

/// A cause that the repair cures.
struct CuredCause {
  std::string id;
  std::string says;
  Probability chance;   // that it is there
  double needed = 0.0;  // of all jobs like this, those that the repair ends only by curing it
  bool judged = true;
  std::string not_judged_because;  // the distrust's reason
};

struct ReviewEvidence {
  std::string finding;
  std::string says;
  FindingState state = FindingState::present;
  std::string grade;
  double ends_without = 0.0;  // chance that the repair ends the complaint, were this not known
  /// On the odds that it does, natural logarithm, taken after the findings before it in the rules;
  /// above 0 speaks for the repair.
  double log_factor = 0.0;
};

/// One of several findings that are the complaint.
struct ReviewPart {
  std::string finding;
  std::string says;
  double remains = 0.0;       // chance that it is still there after the repair
  double ends_without = 0.0;  // chance that the repair ends the rest of the complaint
};

struct Review {
  std::string job;
  std::string unit;
  std::vector<StepReport> repairs;  // as intended
  Verdict verdict = Verdict::go_ahead;
  double ends = 0.0;               // chance that it ends the complaint
  double cost_of_round = 0.0;      // what it costs to do, with all that must come before and after
  double cost_ahead = 0.0;         // expected until the complaint is gone, going ahead with it
  double cost_best = 0.0;          // of the best plan, with a check where one is worth it
  std::vector<ReviewPart> parts;   // where the complaint is more than one; likeliest to stay first
  std::vector<StepReport> before;  // `only after` steps that are not done
  std::vector<StepReport> after;   // what the job is not finished without
  std::vector<double> adds;        // per repair: chance that only it, of those intended, ends it
  std::vector<CuredCause>
      must_be_true;                // one of these, for the repair to be right; likeliest first
  double ends_by_complaint = 0.0;  // chance that it ends it, nothing else known
  std::vector<ReviewEvidence> evidence;  // strongest first, for and against
  FirstPlace first_place;                // of the ranking
  NextAdvice best;                       // the plan beside it; `checks` are those not done yet
};

struct UnknownRepair {
  std::string name;
  std::vector<std::string> nearest;
};

using ReviewResult =
    std::variant<Review, UnknownRepair, ComplaintGone, NoComplaint, ImpossibleEvidence, TooWide>;

/// Planning takes these all in, and its time doubles with each.
inline constexpr std::size_t most_reviewed = 6;

/// `repairs`: at least one and at most `most_reviewed`; ids ("element_pack of K2") or their texts;
/// done together.
[[nodiscard]] ReviewResult review(const Knowledge& knowledge, const Job& job,
                                  const std::vector<std::string>& repairs,
                                  const NextOptions& options = {});

}  // namespace slipcase
