// Trials: jobs written beside the rules, with what must come out of them.
//
// A trial depends on a line of the rules when, without that line, the chance of a cause that the
// trial names would be another by more than `TrialCoverage::least_change`, a finding it names would
// have another state, or a cause that it says is not judged would be judged.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "slipcase/knowledge.h"
#include "slipcase/probability.h"

namespace slipcase {

/// A cause as a trial's job ranks it.
struct TrialCause {
  std::string id;
  std::string says;
  Probability chance;
  std::size_t place = 0;           // among the causes that may be judged; 0: it may not
  std::string not_judged_because;  // the distrust's reason
};

/// An `expect` line that did not come out.
struct TrialFailure {
  std::string expected;            // "lining_worn of K3 first", as written
  std::string place;               // "trials.rules:9:5"
  std::vector<TrialCause> causes;  // those it names, as they came out
  std::string instead;             // where it is about something else, for people
};

struct TrialReport {
  std::string title;
  std::string place;
  bool shipped = false;                // came with the program; else the shop's own
  std::string not_run;                 // why nothing came out; "" if something did
  std::vector<TrialFailure> failures;  // in the order of the trial's lines
  std::vector<TrialCause> first;       // the first three causes that may be judged

  [[nodiscard]] bool passed() const { return not_run.empty() && failures.empty(); }
};

enum class RuleLineKind : std::uint8_t {
  cause,        // the cause itself: how often it is found
  becomes,      // becomes R times as likely when
  exclusion,    // never when, possible only when
  shows,        // of a cause or an inside
  then_causes,  // a cause that makes another
  flags,        // of a check
  finding,      // that it is looked at
  worked_out,   // the condition of a finding or of one of its grades
  at_most_one,
  distrust,
};

/// A line of the rules that no trial depends on.
struct UntriedLine {
  RuleLineKind kind = RuleLineKind::cause;
  std::string of;    // the declaration it stands in
  std::string text;  // as written
  std::string place;
};

struct KindCoverage {
  RuleLineKind kind = RuleLineKind::cause;
  std::size_t lines = 0;
  std::size_t depended_on = 0;
};

struct TrialCoverage {
  double least_change = 0.0;         // of a chance, that counts as depending
  std::vector<KindCoverage> kinds;   // those that the rules have lines of
  std::vector<UntriedLine> untried;  // by kind, then in the order of the rules
};

struct TrialsRun {
  std::vector<TrialReport> trials;  // in the order of the rules
  std::size_t left_out = 0;         // whose name was not asked for
  std::size_t causes = 0;           // declared in the rules
  std::size_t causes_expected = 0;  // of these, expected first, among the first, above or before
  std::optional<TrialCoverage> coverage;

  [[nodiscard]] std::size_t passed() const {
    std::size_t count = 0;
    for (const TrialReport& trial : trials) count += trial.passed() ? 1U : 0U;
    return count;
  }
  [[nodiscard]] bool all_passed() const { return passed() == trials.size(); }
};

struct TrialOptions {
  /// Only trials with this in their name: capitals do not matter, `*` stands for anything.
  std::string only;
  bool coverage = false;
  std::size_t memory_bytes = std::size_t{2} << 30U;
};

/// Runs the trials of the rules. What is wrong with the facts of one is reported and the others
/// run.
[[nodiscard]] TrialsRun try_rules(const Knowledge& knowledge, const TrialOptions& options,
                                  Diagnostics& diagnostics);

}  // namespace slipcase
