// The ranking of causes for a job: exact posterior chances and what goes with them.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "slipcase/job.h"
#include "slipcase/probability.h"

namespace slipcase {

struct RankedCause {
  std::string id;     // "lining_worn of K2"
  std::string says;   // for people
  std::string group;  // may be empty
  Probability
      prior;  // for this job, before its findings: `found` with every `becomes` that applies
  Probability chance;    // P(present | everything known of the job), exact
  bool possible = true;  // false: `never` or `possible only` rules it out
  bool judged = true;
  std::string not_judged_because;  // the distrust's reason
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
  std::size_t causes_not_judged = 0;
};

/// An unknown that would move the ranking: an open question or a check.
struct MissingFinding {
  std::string id;
  std::string says;
  std::string asks;
  std::string check;     // the check that answers it, by its name; "" for a plain question
  std::string found_by;  // the same for people
  Probability chance_of_yes;
  double information = 0.0;   // expected information about single causes, summed, in bits
  std::string leader_if_yes;  // id of the first cause then
  std::string leader_if_no;
  Probability first_if_yes;  // chance of the cause that is first now
  Probability first_if_no;
};

/// A fact that a rule asks for and the card does not give (see the table of meanings: "not
/// applied").
struct UndecidedRule {
  std::string text;   // "whether `values_unlearned` applies"
  std::string place;  // "readings.rules:12:3"
};

struct CauseChain {
  std::string origin;
  std::string consequence;
};

struct CautionReport {
  std::string id;
  std::string says;
};

/// A finding that the rules link to the first judged cause. The factors are taken one after the
/// other in the order of the rules, these findings first.
struct Evidence {
  std::string finding;
  std::string says;
  FindingState state = FindingState::present;
  std::size_t more = 0;     // further members of the same finding that are not there either
  double log_factor = 0.0;  // on the odds, natural logarithm; above 0 speaks for
};

struct Ranking {
  std::string job;
  std::string unit;
  std::string complaint;
  std::size_t rule_files = 0;
  std::string fingerprint;
  std::vector<RankedCause> causes;    // by chance, then id
  std::vector<GroupChance> groups;    // by chance, then name
  Probability nothing_listed;         // every listed cause absent
  std::vector<InsteadCause> instead;  // the first cause taken as absent
  double log_evidence = 0.0;          // natural logarithm
  std::vector<Combination> combinations;
  std::vector<FindingReport> findings;
  std::vector<DistrustReport> distrusts;
  std::vector<UndecidedRule> undecided;
  std::vector<MissingFinding> missing;  // most informative first
  std::vector<CauseChain> chains;       // among the likely causes: origin and what it then caused
  std::vector<Evidence> evidence;       // about the first judged cause, strongest first
  double other_evidence = 0.0;  // ln factor of all other findings, which speak through other causes
  std::vector<std::string>
      contradictions;  // for people: an answer against a worked-out value, two of "at most one"
  std::vector<CautionReport> cautions;
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
  std::size_t missing = 5;
  std::size_t memory_bytes = std::size_t{2} << 30U;
};

[[nodiscard]] RankResult rank(const Knowledge& knowledge, const Job& job,
                              const RankOptions& options = {});

}  // namespace slipcase
