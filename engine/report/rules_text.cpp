// The list of rules on screen.
#include <fmt/core.h>

#include "report/lines.h"
#include "slipcase/report.h"

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

std::string per_hundred(double share) { return fmt::format("{:.3g} of 100", 100.0 * share); }

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

std::string finding_lines(const ListedFinding& finding, bool rates, std::size_t width) {
  std::string out = wrapped(finding.id + ": " + finding.says, width, 1, 4);
  if (!rates) return out;
  for (const auto& rate : finding.rates) {
    out += two_sided((rate.grade.empty() ? "" : rate.grade + ": ") + "of all jobs",
                     per_hundred(rate.share), width, 5, 2);
    out += two_sided(fmt::format("by its {} causes alone {}, without any of them", finding.causes,
                                 per_hundred(rate.share_by_causes)),
                     per_hundred(rate.otherwise), width, 7, 2);
  }
  return out + wrapped(finding.place, width, 5, 0);
}

}  // namespace

std::string to_text(const RulesList& list, bool rates, const TextStyle& style) {
  const std::size_t width = report::usable_width(style);
  std::string out;
  if (!list.causes.empty()) out += heading("CAUSES, and in how many jobs each is found", style);
  for (const auto& cause : list.causes) out += cause_lines(cause, rates, width);
  if (!list.findings.empty()) {
    out += (out.empty() ? "" : "\n") +
           heading(rates ? "FINDINGS, and the share of all jobs that the rules imply" : "FINDINGS",
                   style);
  }
  for (const auto& finding : list.findings) out += finding_lines(finding, rates, width);
  if (!list.others.empty()) out += (out.empty() ? "" : "\n") + heading("OTHERS", style);
  for (const auto& other : list.others) {
    out += wrapped(fmt::format("{} {}: {}", other.kind, other.id, other.says), width, 1, 4);
  }
  if (out.empty()) out = "Nothing in the rules has that word in its name or text.\n";
  return out;
}

}  // namespace slipcase
