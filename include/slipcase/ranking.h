// The ranking of causes for a job: exact posterior chances and what goes with them.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "slipcase/job.h"
#include "slipcase/probability.h"

namespace slipcase {

/// The other end of "then causes". `chance`: of the jobs like this one that have the consequence,
/// the share in which this origin made it, exact; several origins may have made it at once.
struct CauseEnd {
  std::string id;
  double chance = 0.0;
};

struct RankedCause {
  std::string id;     // "lining_worn of K2"
  std::string says;   // for people
  std::string group;  // may be empty
  Probability
      prior;  // for this job, before its findings: `found` with every `becomes` that applies
  Probability chance;    // P(present | everything known of the job), exact
  double low = 0.0;      // with every count drawn anew (Ranking::draws times): 5 of 100 lie below
  double high = 1.0;     // 5 of 100 lie above
  double first = 0.0;    // share of the draws in which it came first of those judged
  bool possible = true;  // false: `never` or `possible only` rules it out
  bool judged = true;
  std::string not_judged_because;  // the distrust's reason
  bool raised = false;  // at least 1 of 100, and clearly above `prior`: something speaks for it
  std::vector<CauseEnd> origins;       // likely causes that can have made it
  std::vector<CauseEnd> consequences;  // likely causes that it can have made
};

struct GroupChance {
  std::string group;
  Probability chance;  // at least one cause of the group is present
};

struct Combination {
  std::vector<std::string> causes;  // exactly these; empty: none of the listed
  double chance = 0.0;
};

struct InsteadCause {
  std::string id;
  std::string says;
  Probability chance;
};

enum class FindingState : std::uint8_t { present, absent, unknown, left_out, set_aside };

struct FindingReport {
  std::string id;
  std::string says;
  FindingState state = FindingState::unknown;
  std::string grade;  // for a graded finding that is there; "" if only "at least the weakest" is
                      // known of an ungraded
  bool worked_out = false;
  std::string because;  // set aside: the distrust's reason
  bool complaint = false;
};

struct DistrustReport {
  std::string id;
  std::string because;
  std::vector<std::string> until;       // ids
  std::vector<std::string> until_says;  // for people
  std::vector<std::string> set_aside;   // readings and findings it holds back, for people
  std::vector<std::string> except;      // findings that may use them all the same, for people
  std::vector<std::string> facts;       // why it applies: "odometer: 90000 km (job.yaml:4:3)"
  std::size_t causes_not_judged = 0;
};

/// Something open and what it is called for people.
struct OpenName {
  std::string id;
  std::string says;
};

/// A question or a check that would move the ranking, weighed by the one finding that tells most.
struct MissingFinding {
  std::string id;
  std::string says;
  std::string asks;
  std::string check;     // the check that answers it, by its name; "" for a plain question
  std::string found_by;  // the same for people
  double minutes = 0.0;  // with getting there
  std::vector<std::string> members;  // of the finding, most telling first, itself included
  std::vector<OpenName> also;  // other findings that the same check answers, most telling first
  Probability chance_of_yes;
  double information = 0.0;   // expected information about single causes, summed, in bits
  std::string leader_if_yes;  // id of the first cause then
  std::string leader_if_no;
  Probability first_if_yes;  // chance of the cause that is first now
  Probability first_if_no;
  bool matters = false;  // another cause would be first, or the first's chance moves by 5 of 100
};

/// A rule whose condition the card leaves open (see the table of meanings: "not applied").
struct UndecidedRule {
  std::string text;                    // "whether `wrong_fluid` is 4 times as likely here"
  std::string place;                   // "readings.rules:12:3"
  std::string because;                 // of a distrust: why evidence would be set aside
  std::vector<std::string> waits_for;  // facts that the card does not give, by name; may be empty
  std::vector<std::string> waits_for_says;  // the same for people: questions and checks
  double moves = 0.0;  // how far a judged cause's chance could move; 1: could hold evidence back
};

/// Facts that rules about causes ask for and the card does not give: one question, or what one
/// check gives together.
struct CardGap {
  struct Move {
    std::string cause;
    std::string says;
    Probability now;
    Probability then;  // if the rule that asks applied
  };
  std::vector<std::string> ids;
  std::string asks;  // for people: the question, or the check
  std::string check;
  double minutes = 0.0;
  std::vector<Move> moves;  // largest first
  double most = 0.0;        // of them
};

/// A likely cause and a likely one that it made in part of the jobs.
struct CauseChain {
  std::string origin;
  std::string consequence;
  double chance = 0.0;  // as in CauseEnd
};

/// A cause with what it mostly then caused; a story of one cause where nothing follows.
struct Story {
  std::string start;
  std::vector<std::string> then;  // likeliest first
};

struct CautionReport {
  std::string id;
  std::string says;
};

/// A finding that the rules link to `Ranking::first`. The factors are taken one after the
/// other in the order of the rules, these findings first.
/// Stands for a finding's id where the evidence is that repairs did not end the complaint.
inline constexpr const char* complaint_stayed = "complaint_stayed";

struct Evidence {
  std::string finding;  // id; `complaint_stayed` for repairs that did not help
  std::string says;
  FindingState state = FindingState::present;
  std::size_t more = 0;     // further members of the same finding that are not there either
  double log_factor = 0.0;  // on the odds, natural logarithm; above 0 speaks for
};

/// A repair on the card that did not help.
struct TriedRepair {
  std::string id;
  std::string says;
};

struct Ranking {
  std::string job;
  std::string unit;
  std::string complaint;
  std::vector<Supposed> supposed;
  std::vector<TriedRepair> tried;
  std::string gone_with;  // the repair that the complaint went with, as people say it; "" for none
  bool learned_from_tried = false;  // the chances are of what is there after those repairs
  std::size_t rule_files = 0;
  std::string fingerprint;
  std::vector<RankedCause> causes;  // by chance, then id
  std::vector<GroupChance> groups;  // by chance, then name
  Probability nothing_listed;       // every listed cause absent
  std::string first;  // the cause to start with: the start of the first story; "" if there is none
  std::vector<Story> stories;  // the judged causes that something speaks for, the likeliest first
  std::vector<InsteadCause> instead;  // `first` taken as absent
  double log_evidence = 0.0;          // natural logarithm
  std::vector<Combination> combinations;
  std::vector<FindingReport> findings;
  std::vector<DistrustReport> distrusts;
  std::vector<UndecidedRule> undecided;
  std::vector<CardGap> card_gaps;       // what could move a cause most first
  std::vector<MissingFinding> missing;  // what tells most for its time first
  std::vector<CauseChain> chains;
  std::vector<Evidence> evidence;  // about `first`, strongest first
  double other_evidence = 0.0;  // ln factor of all other findings, which speak through other causes
  std::vector<std::string>
      contradictions;  // for people: an answer against a worked-out value, two of "at most one"
  std::vector<CautionReport> cautions;
  std::size_t draws = 0;  // as asked for; 0 also where they could not be computed
  std::uint64_t seed = 0;
  unsigned width = 0;  // of the exact computation: its cost is about 2^width
};

/// The findings cannot all be true under the rules; nothing can be ranked.
struct ImpossibleEvidence {
  struct Finding {
    std::string id;
    std::string says;
    FindingState state = FindingState::present;
  };
  std::vector<Finding> clash;  // a smallest set that cannot be
};

/// The job is too entangled to be exact in the memory given.
struct TooWide {
  unsigned width = 0;
  double bytes_needed = 0.0;
};

using RankResult = std::variant<Ranking, ImpossibleEvidence, TooWide>;

struct RankOptions {
  std::size_t combinations = 5;
  bool groups = true;      // Ranking::groups
  std::size_t draws = 0;   // for RankedCause::low, high and first; 0: those say nothing
  std::uint64_t seed = 1;  // the same seed draws the same
  std::size_t tipping =
      3;  // how many counts that would make another cause the one to start with; 0: none
  std::size_t missing = 3;
  std::size_t memory_bytes = std::size_t{2} << 30U;
};

[[nodiscard]] RankResult rank(const Knowledge& knowledge, const Job& job,
                              const RankOptions& options = {});

}  // namespace slipcase
