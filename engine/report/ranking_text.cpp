// The ranking on screen, in the order in which a person asks: what is it, how sure, why, what was
// not used, what is missing, what to mind.
#include <algorithm>
#include <cmath>

#include <fmt/core.h>

#include "report/lines.h"
#include "report/missing_text.h"
#include "report/plan_words.h"
#include "report/supposed.h"
#include "report/words.h"
#include "slipcase/report.h"

namespace slipcase {

namespace {

using report::heading;
using report::two_sided;
using report::wrapped;

constexpr std::size_t most_causes = 8;
constexpr std::size_t most_evidence = 6;
constexpr double too_small_to_show = 0.01;
constexpr double next_to_certain = 0.95;  // then nobody asks what it might be instead

std::string title(const Ranking& ranking, std::size_t width) {
  std::string text = ranking.job.empty() ? "Job without a number" : "Job " + ranking.job;
  if (!ranking.complaint.empty()) text += ": " + ranking.complaint;
  return wrapped(text, width, 0, 2) + report::supposed_lines(ranking.supposed, width);
}

const RankedCause* find(const Ranking& ranking, const std::string& id) {
  const auto at = std::find_if(ranking.causes.begin(), ranking.causes.end(),
                               [&](const RankedCause& cause) { return cause.id == id; });
  return at != ranking.causes.end() ? &*at : nullptr;
}

/// "which then caused" is said where it did in nearly all jobs that have both.
std::string then_lines(const Ranking& ranking, const Story& story, std::size_t width) {
  constexpr double nearly_always = 0.9;
  std::string out;
  for (const std::string& id : story.then) {
    const RankedCause* then = find(ranking, id);
    if (then == nullptr) continue;
    const bool sure = std::any_of(
        then->origins.begin(), then->origins.end(),
        [&](const CauseEnd& end) { return end.id == story.start && end.chance >= nearly_always; });
    const std::string lead = sure ? "which then caused: " : "which may have caused: ";
    out += two_sided(lead + then->says, in_plain_counts(then->chance), width, 5, 2);
  }
  return out;
}

/// Words are for people; a card that holds nothing else leaves the rules nothing to go by.
std::string unread_words(const Ranking& ranking, std::size_t width) {
  const bool any = std::any_of(
      ranking.findings.begin(), ranking.findings.end(),
      [](const FindingReport& finding) { return finding.state == FindingState::present; });
  if (any || ranking.complaint.empty()) return {};
  return wrapped(
      "The words of the complaint are not read. Write what they amount to under `findings:` of the "
      "complaint, such as `flare of 2-3`; `slipcase rules list` shows what can stand there.",
      width, 1, 0);
}

std::string causes_section(const Ranking& ranking, const TextStyle& style, std::size_t width) {
  std::string out = heading("MOST LIKELY, in jobs like this one", style);
  const std::size_t shown = std::min(ranking.stories.size(), most_causes);
  for (std::size_t i = 0; i < shown; ++i) {
    const RankedCause* cause = find(ranking, ranking.stories[i].start);
    if (cause == nullptr) continue;
    std::string line = two_sided(cause->says, in_plain_counts(cause->chance), width, 5, 2);
    out += line.replace(0, 3, fmt::format("{:>3}", i + 1));
    out += then_lines(ranking, ranking.stories[i], width);
  }
  if (ranking.stories.empty()) {
    out += wrapped("Nothing stands out: no finding speaks for any cause that may be judged.", width,
                   1, 0);
    out += unread_words(ranking, width);
  }
  if (ranking.stories.size() > shown) {
    out += wrapped(fmt::format("{} more that something speaks for (--json lists all)",
                               ranking.stories.size() - shown),
                   width, 5, 0);
  }
  return out;
}

/// What would be first if the first cause were not there: judged, and more than it always is.
const InsteadCause* runner_up(const Ranking& ranking) {
  const RankedCause* first = find(ranking, ranking.first);
  if (first == nullptr || first->chance.value() >= next_to_certain) return nullptr;
  for (const InsteadCause& cause : ranking.instead) {
    const RankedCause* ranked = find(ranking, cause.id);
    const bool raised = ranked != nullptr && cause.chance.value() > 1.05 * ranked->prior.value();
    if (raised && ranked->judged && cause.chance.value() >= too_small_to_show) return &cause;
  }
  return nullptr;
}

std::string gone_line(const Ranking& ranking, std::size_t width) {
  if (ranking.gone_with.empty()) return {};
  return wrapped("The card says that the complaint went with: " + ranking.gone_with +
                     ". The chances above are of what was there before that.",
                 width, 1, 2);
}

/// Every fact is taken as found before the repairs.
std::string tried_lines(const Ranking& ranking, std::size_t width) {
  if (ranking.tried.empty()) return {};
  std::string names;
  for (const TriedRepair& repair : ranking.tried)
    names += (names.empty() ? "" : "; ") + repair.says;
  const std::string taken_in =
      ranking.learned_from_tried
          ? ". The chances above take that in: they are of what is in the car after it."
          : ". The chances above learn nothing from that.";
  return wrapped("Done, and it did not help: " + names + taken_in, width, 1, 2);
}

/// How far the ranking hangs on how few jobs stand behind the counts.
std::string spread_lines(const Ranking& ranking, std::size_t width) {
  const RankedCause* first = find(ranking, ranking.first);
  if (ranking.draws == 0 || first == nullptr) return {};
  const auto draws = static_cast<double>(ranking.draws);
  const double error = std::sqrt(first->first * (1 - first->first) / draws);
  const std::string give_or_take =
      error < 0.005 ? std::string() : fmt::format(" (give or take {:.0f})", 100 * error);
  return wrapped(
      fmt::format("How much the counts carry: with every count of the rules drawn anew {} times it "
                  "comes first in {:.0f} of 100{}, its chance mostly between {} and {}.",
                  ranking.draws, 100 * first->first, give_or_take, report::counts(first->low),
                  report::counts(first->high)),
      width, 1, 2);
}

std::string sureness_section(const Ranking& ranking, std::size_t width) {
  std::string out =
      gone_line(ranking, width) + tried_lines(ranking, width) + spread_lines(ranking, width);
  if (const InsteadCause* next = runner_up(ranking)) {
    out += wrapped(
        fmt::format("If it is not the first: {}, {}.", next->says, in_plain_counts(next->chance)),
        width, 1, 2);
  }
  std::string rest =
      fmt::format("None of the listed causes: {}.", in_plain_counts(ranking.nothing_listed));
  const auto folded = std::count_if(
      ranking.causes.begin(), ranking.causes.end(),
      [](const RankedCause& cause) { return cause.judged && cause.possible && !cause.raised; });
  if (folded == 1) rest += " One other: nothing speaks for it here.";
  if (folded > 1) rest += fmt::format(" {} others: nothing speaks for them here.", folded);
  if (ranking.causes.size() > 1)
    rest += " Faults can come together: counts may add up to more than all.";
  return out + wrapped(rest, width, 1, 2);
}

std::string evidence_section(const Ranking& ranking, const TextStyle& style, std::size_t width) {
  const RankedCause* first = find(ranking, ranking.first);
  if (first == nullptr || ranking.evidence.empty()) return {};
  std::string about = wrapped("FOR AND AGAINST: " + first->says, width, 0, 2);
  about.pop_back();
  std::string out = "\n" + heading(about, style);
  for (std::size_t i = 0; i < ranking.evidence.size() && i < most_evidence; ++i) {
    const Evidence& evidence = ranking.evidence[i];
    const auto finding =
        std::find_if(ranking.findings.begin(), ranking.findings.end(),
                     [&](const FindingReport& f) { return f.id == evidence.finding; });
    const std::string grade = finding != ranking.findings.end() ? finding->grade : std::string();
    const std::string lead =
        fmt::format(" {:<8} {:<9}", evidence.log_factor > 0 ? "for" : "against",
                    report::strength_word(evidence.log_factor));
    std::string text = report::seen_text(evidence.says, evidence.state, grade);
    if (evidence.finding != complaint_stayed &&
        report::fits_others_better(evidence.state, evidence.log_factor))
      text += ": others show it more often";
    if (evidence.more > 0) text += fmt::format(", and {} more of its kind", evidence.more);
    out += report::led(lead, 19, text, width);
  }
  constexpr double worth_a_line = 0.2;
  if (std::fabs(ranking.other_evidence) >= worth_a_line) {
    const std::string lead =
        fmt::format(" {:<8} {:<9}", ranking.other_evidence > 0 ? "for" : "against",
                    report::strength_word(ranking.other_evidence));
    out += report::led(lead, 19, "all other facts together, through other causes", width);
  }
  out += wrapped("All of it, with the rules it comes from: slipcase reasons", width, 1, 2);
  return out;
}

/// Whether these hold is not known, and they would hold something back.
std::string open_distrusts(const Ranking& ranking, std::size_t width) {
  constexpr std::size_t most_shown = 2;
  std::string out;
  std::size_t shown = 0;
  for (const UndecidedRule& rule : ranking.undecided) {
    if (rule.because.empty() || rule.moves < 1.0 || rule.waits_for.empty()) continue;
    if (++shown > most_shown) break;
    std::string asked;
    for (const std::string& says : rule.waits_for_says)
      asked += (asked.empty() ? "to know it: " : "; ") + says;
    out += wrapped("Not known, and it would set facts aside: whether " + rule.because + ".", width,
                   1, 2) +
           wrapped(asked, width, 3, 2);
  }
  return out;
}

std::string distrust_facts(const DistrustReport& distrust, std::size_t width) {
  constexpr std::size_t most_facts = 3;
  std::string text;
  for (std::size_t i = 0; i < std::min(distrust.facts.size(), most_facts); ++i)
    text += (text.empty() ? "" : ", ") + distrust.facts[i];
  return text.empty() ? text : wrapped("from " + text, width, 3, 2);
}

std::string held_back_section(const Ranking& ranking, const TextStyle& style, std::size_t width) {
  std::string out;
  for (const DistrustReport& distrust : ranking.distrusts) {
    out += wrapped("Because " + distrust.because + ":", width, 1, 2);
    out += distrust_facts(distrust, width);
    if (!distrust.set_aside.empty()) {
      const std::string but_for =
          distrust.except.empty() ? "" : "; but for: " + report::joined(distrust.except);
      out += wrapped("not used: " + report::joined(distrust.set_aside) + but_for, width, 3, 2);
    }
    if (distrust.causes_not_judged > 0) {
      out += wrapped(fmt::format("not judged yet: {} of {} causes", distrust.causes_not_judged,
                                 ranking.causes.size()),
                     width, 3, 2);
    }
    if (!distrust.until_says.empty())
      out += wrapped("ends with: " + report::joined(distrust.until_says), width, 3, 2);
  }
  for (const std::string& text : ranking.contradictions)
    out += wrapped("Contradiction: " + text + ".", width, 1, 2);
  out += open_distrusts(ranking, width);
  if (out.empty()) return {};
  return "\n" + heading("SET ASIDE, AND NOT JUDGED YET", style) + out;
}

std::string cautions_section(const Ranking& ranking, const TextStyle& style, std::size_t width) {
  std::string out = "\n" + heading("MIND", style);
  for (const CautionReport& caution : ranking.cautions)
    out += wrapped("! " + caution.says, width, 1, 2);
  return out +
         wrapped(
             "Likely causes from the facts given, not a verdict. Limits and procedures are the "
             "manufacturer's: check its service information, and confirm before opening.",
             width, 1, 0);
}

}  // namespace

std::string to_text(const Ranking& ranking, const TextStyle& style) {
  const std::size_t width = report::usable_width(style);
  return title(ranking, width) + "\n" + causes_section(ranking, style, width) +
         sureness_section(ranking, width) + evidence_section(ranking, style, width) +
         held_back_section(ranking, style, width) + report::missing_section(ranking, style) +
         cautions_section(ranking, style, width);
}

std::string to_text(const ImpossibleEvidence& impossible, const TextStyle& style) {
  const std::size_t width = report::usable_width(style);
  std::string out =
      wrapped("These facts cannot all be true under the rules, so nothing is ranked:", width, 0, 0);
  for (const auto& finding : impossible.clash) {
    out +=
        wrapped("- " + report::seen_text(finding.says, finding.state, "") + " (" + finding.id + ")",
                width, 1, 2);
  }
  return out + wrapped(
                   "Check each answer again. If they are right, a rule says \"always\" (`n of n`) "
                   "or \"never\" "
                   "where it should not.",
                   width, 0, 0);
}

std::string to_text(const TooWide& wide, const TextStyle& style) {
  return wrapped(
      fmt::format(
          "This job ties too many things together to be ranked exactly: width {}, which needs "
          "about {:.1f} GB of memory. Nothing is ranked rather than ranked roughly. Allow more "
          "memory with --memory, or leave unsure answers out.",
          wide.width, wide.bytes_needed / 1e9),
      report::usable_width(style), 0, 0);
}

}  // namespace slipcase
