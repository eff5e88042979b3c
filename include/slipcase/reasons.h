// Why a cause stands where it stands.
//
// The chain: with the findings taken one after the other, those that the rules link to the cause
// first, each one multiplies the odds of the cause by P(finding | cause, earlier findings) /
// P(finding | no cause, earlier ones), everything else summed out. Their logarithms and the log
// odds of the rate add up to the log odds of the chance (I. J. Good, Probability and the Weighing
// of Evidence, 1950).
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "slipcase/ranking.h"

namespace slipcase {

/// A fact on the card that a worked-out finding rests on.
struct UsedFact {
  std::string text;   // "fill_pressure of K2: 210 mbar"
  std::string place;  // "demo.yaml:14:3"; "" where the card says nothing of it
};

struct ReasonStep {
  std::string finding;  // id; `complaint_stayed` for repairs that did not help
  std::string says;
  FindingState state = FindingState::present;
  std::string grade;
  double log_factor = 0.0;      // natural logarithm; infinite where one side is impossible
  Probability chance_without;   // of the cause, this finding taken away
  std::string rule;             // "drums.rules:12:9": the line that links them; "" where none does
  std::string counts;           // "in 8 of 10 jobs with it; 4 of 100 whatever the reason"
  std::string because;          // the rule's own words
  std::string through;          // the inside on the way, for people
  std::string said_at;          // "demo.yaml:14:3"
  std::string worked_out_by;    // the condition in the rules; "" for a plain answer
  std::vector<UsedFact> facts;  // that it was worked out from
};

/// Something the cause usually shows that was looked for and not seen, or is not known.
struct OpenLink {
  std::string finding;
  std::string says;
  std::string counts;
  Probability if_yes;  // chance of the cause then (unknown ones only)
  Probability if_no;
  bool looked = false;
};

struct RateStep {
  std::string text;  // "use is towing"
  double times = 1.0;
  std::string rule;
};

/// The smallest change of one count of the rules after which another cause comes first.
struct TippingCount {
  std::string rule;  // "hard_parts.rules:14:5"
  std::string line;  // the line itself
  std::string from;  // "8 of 10"
  std::string to;    // "3 of 10"
  std::string then_first;
  std::string then_first_says;
};

/// A finding between two causes, each taken as present without the other.
struct Separator {
  std::string finding;
  std::string says;
  FindingState state = FindingState::unknown;
  std::string grade;
  double log_factor = 0.0;  // known: ln of how much better it fits this cause than the other
  double bits = 0.0;        // unknown: expected information about which of the two it is
  Probability if_this;      // unknown: chance of yes with this cause and not the other
  Probability if_other;
  std::string check;     // unknown: the check that answers it; "" for a question
  std::string found_by;  // the same for people, or the question
};

/// What tells two causes apart.
struct Against {
  std::string other;
  std::string says;
  Probability chance;              // of the other, whatever else is there
  double log_odds = 0.0;           // this without the other, over the other without this
  std::vector<Separator> known;    // strongest first
  std::vector<Separator> unknown;  // most telling first
};

/// An answer to an open finding after which another cause would be the one to start with.
struct TippingAnswer {
  std::string finding;
  std::string says;
  bool yes = true;
  Probability chance;  // of that answer
  std::string then_first;
  std::string then_first_says;
};

struct Reasons {
  std::string job;
  std::vector<Supposed> supposed;
  std::string cause;
  std::string says;
  Probability found;                 // `found in`, before this job's circumstances
  std::vector<RateStep> rate_steps;  // every `becomes` that applies
  Probability prior;                 // after them
  Probability chance;
  std::size_t place = 1;  // in the ranking
  bool judged = true;
  std::string not_judged_because;
  bool possible = true;
  std::string impossible_because;  // the rule that rules it out
  std::string put_right_by;        // a repair on the card that did not help; "" for none
  std::vector<ReasonStep> chain;   // log odds of `prior` plus all of them = log odds of `chance`
  std::vector<OpenLink> expected_not_seen;
  std::vector<OpenLink> unknown;         // by how much they would move the chance
  std::vector<std::string> made_by;      // causes that then cause this one, with what they add
  std::vector<std::string> competitors;  // ids of causes that explain the same findings
  bool leads = false;                    // it is the cause to start with
  std::vector<TippingCount> tipping;     // only then
  std::vector<TippingAnswer> tipping_answers;  // only then; all there are, likeliest answer first
  std::optional<Against> against;              // when asked for
};

/// The cause to start with, and what its place hangs on.
struct FirstPlace {
  std::string id;
  std::string says;
  Probability chance;
  std::vector<TippingCount> tipping;  // the smallest change of one count first
};

struct UnknownCause {
  std::string name;                  // as asked for
  std::vector<std::string> nearest;  // ids that are close
  bool is_itself = false;  // a cause was to be told apart from itself; `nearest`: from which it can
};

using ReasonsResult = std::variant<Reasons, UnknownCause, ImpossibleEvidence, TooWide>;

/// `cause` is an id ("lining_worn of K2") or the text shown for it; empty: the first judged cause
/// of the ranking.
/// `against`: another cause, to be told apart from this one; empty: none.
[[nodiscard]] ReasonsResult reasons(const Knowledge& knowledge, const Job& job,
                                    std::string_view cause, const RankOptions& options = {},
                                    std::string_view against = {});

}  // namespace slipcase
