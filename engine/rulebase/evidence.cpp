#include "rulebase/evidence.h"

#include <fmt/core.h>

#include "rulebase/uses.h"

namespace slipcase::rulebase {

namespace {

Uses uses_behind(const Finding& finding) {
  Uses uses;
  if (finding.when) collect_uses(**finding.when, uses);
  for (const GradeLine& grade : finding.grades) {
    if (grade.when) collect_uses(**grade.when, uses);
  }
  return uses;
}

}  // namespace

Evidence::Evidence(const Rulebase& rules) : rules_(rules), shown_by_(rules.findings.size()) {
  const auto add = [&](const std::vector<Link>& links) {
    for (const Link& link : links) {
      const auto* finding = std::get_if<FindingId>(&link.to);
      if (finding != nullptr && !shown_by_[finding->at()]) shown_by_[finding->at()] = link.place;
    }
  };
  for (const Cause& cause : rules.causes) add(cause.shows);
  for (const Inside& inside : rules.insides) add(inside.shows);
  for (const Check& check : rules.checks) {
    if (check.finding && !check.flags.empty()) {
      shown_by_[check.finding->at()] = check.flags.front().place;
    }
  }
}

std::optional<Evidence::Shown> Evidence::shown_in(const Condition& condition) const {
  const Uses uses = uses_of(condition);
  if (auto shown = directly_in(uses)) return shown;
  // Behind the findings that are asked may be others, and behind those something that is shown.
  struct Asked {
    FindingId finding;
    const FindingUse* root;
  };
  std::vector<bool> looked_at(rules_.findings.size(), false);
  std::vector<Asked> queue;
  for (const FindingUse& use : uses.findings) queue.push_back({use.finding, &use});
  for (std::size_t at = 0; at < queue.size(); ++at) {
    const Asked asked = queue[at];
    if (looked_at[asked.finding.at()]) continue;
    looked_at[asked.finding.at()] = true;
    const Uses behind = uses_behind(rules_.findings[asked.finding.at()]);
    if (auto shown = directly_in(behind)) {
      shown->asked = asked.root->place;
      shown->why = fmt::format("`{}` is worked out from what causes show ({})",
                               rules_.findings[asked.root->finding.at()].header.name, shown->why);
      return shown;
    }
    for (const FindingUse& use : behind.findings) queue.push_back({use.finding, asked.root});
  }
  return std::nullopt;
}

std::optional<Evidence::Shown> Evidence::directly_in(const Uses& uses) const {
  for (const FindingUse& use : uses.findings) {
    const auto& shown = shown_by_[use.finding.at()];
    if (!shown) continue;
    return Shown{use.place,
                 fmt::format("`{}` is shown by causes and would count twice",
                             rules_.findings[use.finding.at()].header.name),
                 shown};
  }
  for (const ReadingUse& use : uses.readings) {
    if (is_of_profile(use.function)) continue;
    return Shown{
        use.place,
        fmt::format("the reading `{}` is seen on the job; make it a finding and let the causes "
                    "show that",
                    rules_.readings[use.reading.at()].header.name),
        std::nullopt};
  }
  if (uses.ratio_error) {
    return Shown{uses.ratio_error_place,
                 "`ratio_error` is seen on the job; make it a finding and let the causes show that",
                 std::nullopt};
  }
  if (!uses.codes.empty()) {
    return Shown{uses.codes.front().place,
                 "a code is seen on the job; make it a finding and let the causes show that",
                 std::nullopt};
  }
  return std::nullopt;
}

}  // namespace slipcase::rulebase
