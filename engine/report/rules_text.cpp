// The list of rules on screen.
#include <algorithm>
#include <vector>

#include <fmt/format.h>

#include "report/lines.h"
#include "slipcase/report.h"
#include "support/per_hundred.h"

namespace slipcase {

namespace {

using report::heading;
using report::two_sided;
using report::wrapped;

std::string as_count(Probability chance) {
  const double p = chance.value();
  if (p <= 0.0) return "none";
  if (p > 0.3) return fmt::format("{:.2g} of 10", 10.0 * p);
  return fmt::format("1 of {:.3g}", 1.0 / p);
}

std::string cause_lines(const ListedCause& cause, bool rates, std::size_t width) {
  std::string out = two_sided(cause.id + ": " + cause.says, as_count(cause.rate), width, 1, 4);
  if (!rates) return out;
  for (const auto& raised : cause.raised) {
    out += two_sided("when " + raised.when, "about " + as_count(raised.rate), width, 5, 2);
  }
  const bool made_more_often = cause.share.value() > cause.rate.value() * 1.005;
  if (made_more_often)
    out += two_sided("of all jobs, with what other causes make of it",
                     per_hundred(cause.share.value()), width, 5, 2);
  return out + wrapped(cause.place, width, 5, 0);
}

std::string rated_lines(const ListedFinding& finding, std::size_t width) {
  std::string out = wrapped(finding.id + ": " + finding.says, width, 1, 4);
  for (const auto& rate : finding.rates) {
    out += two_sided((rate.grade.empty() ? "" : rate.grade + ": ") + "of all jobs",
                     per_hundred(rate.share), width, 5, 2);
    out += two_sided(fmt::format("by its {} causes alone {}, without any of them", finding.causes,
                                 per_hundred(rate.share_by_causes)),
                     per_hundred(rate.otherwise), width, 7, 2);
  }
  return out + wrapped(finding.place, width, 5, 0);
}

std::string in_quotes(const std::string& asks) { return asks.empty() ? "" : "\"" + asks + "\""; }

std::string in_brackets(std::string_view lead, const std::vector<std::string>& words) {
  return words.empty() ? "" : fmt::format(" ({}{})", lead, fmt::join(words, ", "));
}

/// "{element}" is "ELEMENT" for people.
std::string without_braces(std::string_view text) {
  std::string out;
  bool inside = false;
  for (const char c : text) {
    if (c == '{' || c == '}') {
      inside = c == '{';
    } else {
      out += inside && c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
    }
  }
  return out;
}

/// One line for all members of a family that is listed as a whole.
std::string family_line(const ListedFinding& finding, std::size_t listed, bool asked,
                        std::size_t width) {
  const bool whole = !finding.family.empty() && listed == finding.members;
  const std::string& id = whole ? finding.family : finding.id;
  const std::string& says = whole ? finding.family_says : finding.says;
  std::string out = wrapped(id + ": " + says + in_brackets("", finding.grades), width, 1, 4);
  const std::string& asks = whole ? finding.family_asks : finding.asks;
  if (asked && !asks.empty()) out += wrapped(in_quotes(asks), width, 5, 0);
  return out;
}

using Findings = std::vector<const ListedFinding*>;

/// Members of one family stand one after the other.
std::string families(const Findings& findings, bool asked, std::size_t width) {
  std::string out;
  for (std::size_t i = 0; i < findings.size();) {
    const ListedFinding& first = *findings[i];
    std::size_t end = i + 1;
    while (!first.family.empty() && end < findings.size() && findings[end]->family == first.family)
      ++end;
    const bool whole = end - i == first.members;
    for (std::size_t k = i; k < (whole ? i + 1 : end); ++k)
      out += family_line(*findings[k], end - i, asked, width);
    i = end;
  }
  return out;
}

std::string finding_sections(const RulesList& list, bool asked, const TextStyle& style) {
  const std::size_t width = report::usable_width(style);
  Findings asked_for;
  Findings worked_out;
  Findings of_checks;
  for (const ListedFinding& finding : list.findings) {
    const bool only_worked_out = finding.worked_out && finding.asks.empty();
    (finding.result_of_check ? of_checks
     : only_worked_out       ? worked_out
                             : asked_for)
        .push_back(&finding);
  }
  std::string out;
  const auto section = [&](std::string_view title, const Findings& findings) {
    if (findings.empty()) return;
    out += (out.empty() ? "" : "\n") + heading(title, style) + families(findings, asked, width);
  };
  section("FINDINGS, answered `yes` or `no` or with a grade in brackets", asked_for);
  section("FINDINGS THAT ARE WORKED OUT, not asked", worked_out);
  section("CHECKS, answered `yes` or `no` where they are done", of_checks);
  return out;
}

std::string other_lines(const ListedName& other, bool asked, std::size_t width) {
  std::string line = other.kind + " " + other.id;
  if (other.says != other.id) line += ": " + without_braces(other.says);
  line += in_brackets(other.kind == "check" ? "answers " : "", other.answers);
  std::string out = wrapped(line, width, 1, 4);
  if (asked && !other.asks.empty()) out += wrapped(in_quotes(other.asks), width, 5, 0);
  return out;
}

/// A check that is itself the finding stands there.
bool is_told(const RulesList& list, const ListedName& other) {
  if (other.kind != "check") return false;
  return std::any_of(list.findings.begin(), list.findings.end(), [&](const auto& finding) {
    const std::string_view name = finding.family.empty() ? finding.id : finding.family;
    return finding.result_of_check && name.substr(0, name.find(' ')) == other.id;
  });
}

/// So many lines and no more are worth their questions.
constexpr std::size_t most_with_questions = 60;

}  // namespace

std::string to_text(const RulesList& list, bool rates, const TextStyle& style) {
  const std::size_t width = report::usable_width(style);
  const bool asked = list.findings.size() + list.others.size() <= most_with_questions;
  std::string out;
  if (!list.causes.empty()) out += heading("CAUSES, and in how many jobs each is found", style);
  for (const auto& cause : list.causes) out += cause_lines(cause, rates, width);
  if (!list.findings.empty() && !out.empty()) out += "\n";
  if (!rates) {
    out += finding_sections(list, asked, style);
  } else if (!list.findings.empty()) {
    out += heading("FINDINGS, and the share of all jobs that the rules imply", style);
    for (const auto& finding : list.findings) out += rated_lines(finding, width);
  }
  std::string others;
  for (const auto& other : list.others)
    if (rates || !is_told(list, other)) others += other_lines(other, asked, width);
  if (!others.empty()) out += (out.empty() ? "" : "\n") + heading("OTHERS", style) + others;
  if (out.empty()) out = "Nothing in the rules has that word in its name or text.\n";
  return out;
}

}  // namespace slipcase
