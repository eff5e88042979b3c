// What came out of the trials, on screen.
#include <optional>

#include <fmt/core.h>

#include "report/lines.h"
#include "slipcase/report.h"
#include "support/per_hundred.h"

namespace slipcase {

namespace {

using report::heading;
using report::led;
using report::two_sided;
using report::wrapped;

/// Of a line of the rules that no trial depends on; the place tells the rest.
constexpr std::size_t shown_text = 100;
constexpr std::size_t lead_width = 6;  // " pass", " FAIL"

std::string_view kind_words(RuleLineKind kind) {
  switch (kind) {
    case RuleLineKind::cause:
      return "causes";
    case RuleLineKind::becomes:
      return "`becomes` lines";
    case RuleLineKind::exclusion:
      return "`never when` and `possible only when` lines";
    case RuleLineKind::shows:
      return "`shows` lines";
    case RuleLineKind::then_causes:
      return "`then causes` lines";
    case RuleLineKind::flags:
      return "`flags` lines";
    case RuleLineKind::finding:
      return "findings";
    case RuleLineKind::worked_out:
      return "conditions that work a finding out";
    case RuleLineKind::at_most_one:
      return "`at most one` lists";
    case RuleLineKind::distrust:
      return "distrusts";
  }
  return "";
}

/// Exactly: what failed may have failed by little.
std::string where_it_stands(const TrialCause& cause) {
  const std::string chance = per_hundred(cause.chance.value(), 4);
  if (cause.place == 0) {
    return fmt::format("{} is not judged ({}{}{})", cause.id, chance,
                       cause.not_judged_because.empty() ? "" : "; ", cause.not_judged_because);
  }
  return fmt::format("{} is at place {} ({})", cause.id, cause.place, chance);
}

std::string failure_lines(const TrialFailure& failure, std::size_t width) {
  std::string out =
      wrapped(fmt::format("expected: {} ({})", failure.expected, failure.place), width, 6, 2);
  for (const TrialCause& cause : failure.causes)
    out += wrapped("but " + where_it_stands(cause), width, 8, 2);
  if (!failure.instead.empty()) out += wrapped("but " + failure.instead, width, 8, 2);
  return out;
}

std::string trial_lines(const TrialReport& trial, std::size_t width) {
  if (trial.passed()) return led(" pass", lead_width, trial.title, width);
  std::string out =
      led(" FAIL", lead_width, fmt::format("{} ({})", trial.title, trial.place), width);
  if (!trial.not_run.empty()) return out + wrapped("not run: " + trial.not_run, width, 6, 2);
  for (const TrialFailure& failure : trial.failures) out += failure_lines(failure, width);
  out += wrapped("came out:", width, 6, 0);
  for (const TrialCause& cause : trial.first)
    out += two_sided(fmt::format("{} {}", cause.place, cause.id), in_plain_counts(cause.chance),
                     width, 8, 2);
  return out;
}

struct Passed {
  std::size_t of = 0;
  std::size_t passed = 0;
};

Passed count_of(const TrialsRun& run, bool shipped) {
  Passed count;
  for (const TrialReport& trial : run.trials) {
    if (trial.shipped != shipped) continue;
    ++count.of;
    count.passed += trial.passed() ? 1U : 0U;
  }
  return count;
}

std::string how_many_pass(const TrialsRun& run) {
  const Passed own = count_of(run, false);
  const Passed shipped = count_of(run, true);
  if (own.of > 0 && shipped.of > 0)
    return fmt::format("Yours: {} of {} pass. Shipped: {} of {}.", own.passed, own.of,
                       shipped.passed, shipped.of);
  if (!run.all_passed())
    return fmt::format("{} of {} trials pass.", run.passed(), run.trials.size());
  return run.trials.size() == 1 ? "The trial passes."
                                : fmt::format("{} trials, all pass.", run.trials.size());
}

std::string summary(const TrialsRun& run, std::size_t width) {
  std::string out = wrapped(how_many_pass(run), width, 0, 0);
  const Passed shipped = count_of(run, true);
  if (shipped.passed < shipped.of)
    out +=
        wrapped("A shipped trial that fails shows what a change of yours has moved.", width, 0, 0);
  if (run.coverage || run.left_out > 0) return out;
  return out + wrapped(fmt::format("They expect {} of {} causes; --coverage lists every line of "
                                   "the rules that none depends on.",
                                   run.causes_expected, run.causes),
                       width, 0, 0);
}

std::string coverage_lines(const TrialCoverage& coverage, const TextStyle& style,
                           std::size_t width) {
  std::string out = "\n" + heading("WHAT THE TRIALS DEPEND ON", style);
  for (const KindCoverage& kind : coverage.kinds)
    out += two_sided(kind_words(kind.kind), fmt::format("{} of {}", kind.depended_on, kind.lines),
                     width, 1, 2);
  out += wrapped(fmt::format("A trial depends on a line if without it a chance that the trial "
                             "names would be another by more than {:.3g} of 100, or a finding "
                             "that it names would be in another state.",
                             100.0 * coverage.least_change),
                 width, 1, 0);
  std::optional<RuleLineKind> kind;
  for (const UntriedLine& line : coverage.untried) {
    if (!kind) out += "\n" + heading("WHAT NO TRIAL DEPENDS ON", style);
    if (kind != line.kind) out += wrapped(kind_words(line.kind), width, 1, 0);
    kind = line.kind;
    const bool named_only = line.text == line.of;
    std::string text = named_only || line.of.empty() ? line.text : line.of + ": " + line.text;
    if (text.size() > shown_text && text.find(' ', shown_text) != std::string::npos)
      text = text.substr(0, text.find(' ', shown_text)) + " ...";
    out += wrapped(fmt::format("{} {}", line.place, text), width, 3, 2);
  }
  return out;
}

}  // namespace

std::string to_text(const TrialsRun& run, const TextStyle& style, bool all) {
  const std::size_t width = report::usable_width(style);
  if (run.trials.empty()) return "The rules have no trials.\n";
  std::string out;
  for (const TrialReport& trial : run.trials)
    if (all || !trial.shipped || !trial.passed()) out += trial_lines(trial, width);
  if (!out.empty()) out = heading("TRIALS", style) + out;
  out += summary(run, width);
  if (run.coverage) out += coverage_lines(*run.coverage, style, width);
  return out;
}

}  // namespace slipcase
