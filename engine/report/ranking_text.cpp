// The ranking on screen, in the order in which a person asks: what is it, how sure, why, what was
// not used, what is missing, what to mind.
#include <algorithm>
#include <cmath>

#include <fmt/core.h>

#include "report/lines.h"
#include "report/words.h"
#include "slipcase/report.h"

namespace slipcase {

namespace {

using report::heading;
using report::two_sided;
using report::wrapped;

constexpr std::size_t most_causes = 8;
constexpr std::size_t most_evidence = 8;
constexpr double too_small_to_show = 0.01;

std::string title(const Ranking& ranking, std::size_t width) {
  std::string text = ranking.job.empty() ? "Job without a number" : "Job " + ranking.job;
  if (!ranking.complaint.empty()) text += ": " + ranking.complaint;
  return wrapped(text, width, 0, 2);
}

/// Folded away: small, or not above what it would be before any finding.
bool nothing_speaks_for(const RankedCause& cause) {
  const bool raised = cause.chance.value() > cause.prior.value() * 1.05;
  return cause.chance.value() < too_small_to_show || !raised;
}

const RankedCause* find(const Ranking& ranking, const std::string& id) {
  const auto at = std::find_if(ranking.causes.begin(), ranking.causes.end(),
                               [&](const RankedCause& cause) { return cause.id == id; });
  return at != ranking.causes.end() ? &*at : nullptr;
}

/// The likely causes in print: an origin takes the one it then caused onto its line.
struct Line {
  const RankedCause* cause;
  const RankedCause* consequence = nullptr;
};

std::vector<Line> lines_of(const Ranking& ranking) {
  std::vector<Line> lines;
  std::vector<const RankedCause*> taken;
  const auto is_taken = [&taken](const RankedCause* cause) {
    return std::find(taken.begin(), taken.end(), cause) != taken.end();
  };
  for (const RankedCause& cause : ranking.causes) {
    if (!cause.judged || nothing_speaks_for(cause) || is_taken(&cause)) continue;
    Line line{&cause};
    for (const CauseChain& chain : ranking.chains) {
      const RankedCause* origin = find(ranking, chain.origin);
      const RankedCause* consequence = find(ranking, chain.consequence);
      const bool about_this = origin == &cause || consequence == &cause;
      if (!about_this || is_taken(origin) || is_taken(consequence) || line.consequence != nullptr)
        continue;
      line = {origin, consequence};
    }
    taken.push_back(line.cause);
    if (line.consequence != nullptr) taken.push_back(line.consequence);
    lines.push_back(line);
  }
  return lines;
}

std::string causes_section(const Ranking& ranking, const TextStyle& style, std::size_t width) {
  const std::vector<Line> lines = lines_of(ranking);
  std::string out = heading("MOST LIKELY, in jobs like this one", style);
  for (std::size_t i = 0; i < lines.size() && i < most_causes; ++i) {
    const RankedCause& cause = *lines[i].cause;
    std::string line = two_sided(cause.says, in_plain_counts(cause.chance), width, 5, 2);
    out += line.replace(0, 3, fmt::format("{:>3}", i + 1));
    if (lines[i].consequence != nullptr) {
      const RankedCause& then = *lines[i].consequence;
      out +=
          two_sided("which then caused: " + then.says, in_plain_counts(then.chance), width, 5, 2);
    }
  }
  if (lines.empty())
    out += wrapped("Nothing stands out: no finding speaks for any cause that may be judged.", width,
                   1, 0);
  if (lines.size() > most_causes) {
    out += wrapped(fmt::format("{} more that something speaks for (--json lists all)",
                               lines.size() - most_causes),
                   width, 5, 0);
  }
  return out;
}

/// What would be first if the first cause were not there: judged, and more than it always is.
const InsteadCause* runner_up(const Ranking& ranking) {
  for (const InsteadCause& cause : ranking.instead) {
    const RankedCause* ranked = find(ranking, cause.id);
    const bool raised = ranked != nullptr && cause.chance.value() > 1.05 * ranked->prior.value();
    if (raised && ranked->judged && cause.chance.value() >= too_small_to_show) return &cause;
  }
  return nullptr;
}

std::string sureness_section(const Ranking& ranking, std::size_t width) {
  std::string out;
  if (const InsteadCause* next = runner_up(ranking)) {
    out += wrapped(
        fmt::format("If it is not the first: {}, {}.", next->says, in_plain_counts(next->chance)),
        width, 1, 2);
  }
  out += wrapped(
      fmt::format("None of the listed causes: {}.", in_plain_counts(ranking.nothing_listed)), width,
      1, 2);
  const auto folded =
      std::count_if(ranking.causes.begin(), ranking.causes.end(), [](const RankedCause& cause) {
        return cause.judged && cause.possible && nothing_speaks_for(cause);
      });
  if (folded > 0)
    out +=
        wrapped(fmt::format("{} other causes: nothing speaks for them here.", folded), width, 1, 2);
  if (ranking.causes.size() > 1) {
    out += wrapped("Chances can add up to more than all: faults come together.", width, 1, 2);
  }
  return out;
}

const RankedCause* first_judged(const Ranking& ranking) {
  const auto at = std::find_if(ranking.causes.begin(), ranking.causes.end(),
                               [](const auto& c) { return c.judged; });
  return at != ranking.causes.end() ? &*at : nullptr;
}

std::string evidence_section(const Ranking& ranking, const TextStyle& style, std::size_t width) {
  const RankedCause* first = first_judged(ranking);
  if (first == nullptr || ranking.evidence.empty()) return {};
  std::string out = "\n" + heading("FOR AND AGAINST: " + first->says, style);
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

std::string held_back_section(const Ranking& ranking, const TextStyle& style, std::size_t width) {
  if (ranking.distrusts.empty() && ranking.undecided.empty() && ranking.contradictions.empty())
    return {};
  std::string out = "\n" + heading("SET ASIDE, AND NOT JUDGED YET", style);
  for (const DistrustReport& distrust : ranking.distrusts) {
    out += wrapped("Because " + distrust.because + ":", width, 1, 2);
    if (!distrust.set_aside.empty()) {
      out += wrapped("not used: " + report::joined(distrust.set_aside), width, 3, 2);
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
  constexpr std::size_t most_undecided = 4;
  for (std::size_t i = 0; i < ranking.undecided.size() && i < most_undecided; ++i) {
    out += wrapped(
        fmt::format("Not known: {} ({}).", ranking.undecided[i].text, ranking.undecided[i].place),
        width, 1, 2);
  }
  if (ranking.undecided.size() > most_undecided) {
    out += wrapped(fmt::format("Not known: {} more of that kind (--json lists all).",
                               ranking.undecided.size() - most_undecided),
                   width, 1, 2);
  }
  return out;
}

std::string says_of(const Ranking& ranking, const std::string& id) {
  const RankedCause* cause = find(ranking, id);
  return cause != nullptr ? cause->says : id;
}

/// Another cause would be first, or the chance of the first would move by a twentieth or more.
bool would_matter(const MissingFinding& missing, const RankedCause& first) {
  constexpr double noticeable = 0.05;
  const bool other_first = missing.leader_if_yes != first.id || missing.leader_if_no != first.id;
  const auto moves = [&](Probability then) {
    return std::fabs(then.value() - first.chance.value()) >= noticeable;
  };
  return other_first || moves(missing.first_if_yes) || moves(missing.first_if_no);
}

std::string missing_lines(const Ranking& ranking, const MissingFinding& missing,
                          const RankedCause& first, std::size_t width) {
  const auto outcome = [&](const std::string& leader, Probability first_then) {
    return leader == first.id
               ? fmt::format("the first stays first, {}", in_plain_counts(first_then))
               : fmt::format("first would be: {}", says_of(ranking, leader));
  };
  const std::string what =
      !missing.found_by.empty() ? missing.found_by + " (" + missing.says + "?)" : missing.asks;
  return wrapped("- " + what, width, 1, 2) +
         wrapped(fmt::format("yes ({}): {}", in_plain_counts(missing.chance_of_yes),
                             outcome(missing.leader_if_yes, missing.first_if_yes)),
                 width, 5, 2) +
         wrapped("no: " + outcome(missing.leader_if_no, missing.first_if_no), width, 5, 2);
}

std::string missing_section(const Ranking& ranking, const TextStyle& style, std::size_t width) {
  std::string out;
  const RankedCause* first = first_judged(ranking);
  for (const MissingFinding& missing : ranking.missing) {
    if (first != nullptr && would_matter(missing, *first))
      out += missing_lines(ranking, missing, *first, width);
  }
  if (out.empty()) {
    out = wrapped("No open question or check in the rules would change much of this by itself.",
                  width, 1, 2);
  }
  return "\n" + heading("MISSING, what would tell most first", style) + out;
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
         held_back_section(ranking, style, width) + missing_section(ranking, style, width) +
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
