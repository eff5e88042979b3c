// Why a cause stands where it stands.
//
// The chain: with the findings taken in the order in which the rules declare them, each one
// multiplies the odds of the cause by P(finding | cause, earlier findings) / P(finding | no cause,
// earlier ones), everything else summed out. Their logarithms and the log odds of the rate add up
// to the log odds of the chance (I. J. Good, Probability and the Weighing of Evidence, 1950).
#pragma once

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
  std::string finding;  // id
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

struct Reasons {
  std::string job;
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
  std::vector<ReasonStep>
      chain;  // in rule order: log odds of `prior` plus all of them = log odds of `chance`
  std::vector<OpenLink> expected_not_seen;
  std::vector<OpenLink> unknown;         // by how much they would move the chance
  std::vector<std::string> made_by;      // causes that then cause this one, with what they add
  std::vector<std::string> competitors;  // ids of causes that explain the same findings
};

struct UnknownCause {
  std::vector<std::string> nearest;  // ids that are close
};

using ReasonsResult = std::variant<Reasons, UnknownCause, ImpossibleEvidence, TooWide>;

/// `cause` is an id ("lining_worn of K2") or the text shown for it; empty: the first judged cause
/// of the ranking.
[[nodiscard]] ReasonsResult reasons(const Knowledge& knowledge, const Job& job,
                                    std::string_view cause, const RankOptions& options = {});

}  // namespace slipcase
