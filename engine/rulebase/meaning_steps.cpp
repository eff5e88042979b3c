#include <algorithm>
#include <map>
#include <set>

#include <fmt/core.h>

#include "rulebase/canonical.h"
#include "rulebase/meaning.h"
#include "rulebase/messages.h"

namespace slipcase::rulebase {

namespace {

// Which repairs cure and which checks flag each cause.
struct CauseSteps {
  std::vector<std::set<RepairId>> cured_by;
  std::vector<bool> flagged;
};

CauseSteps steps_of(const Rulebase& rules) {
  CauseSteps steps;
  steps.cured_by.resize(rules.causes.size());
  steps.flagged.resize(rules.causes.size());
  for (std::uint32_t i = 0; i < rules.repairs.size(); ++i) {
    for (const CureLine& cure : rules.repairs[i].cures) {
      steps.cured_by[cure.cause.at()].insert(RepairId{i});
    }
  }
  for (const Check& check : rules.checks) {
    for (const Flag& flag : check.flags) steps.flagged[flag.cause.at()] = true;
  }
  return steps;
}

// All that a cause leads to. Two causes with the same text show the same things.
std::string ends_of(const Rulebase& rules, const Cause& cause) {
  std::vector<std::string> ends;
  for (const Link& link : cause.shows) {
    const auto* finding = std::get_if<FindingId>(&link.to);
    const Header& to = finding != nullptr ? rules.findings[finding->at()].header
                                          : rules.insides[std::get<InsideId>(link.to).at()].header;
    ends.push_back(to.name + canonical_text(rules, link.reach, to.scope));
  }
  for (const CauseLink& link : cause.causes) {
    const Header& to = rules.causes[link.to.at()].header;
    ends.push_back("causes " + to.name + canonical_text(rules, link.reach, to.scope));
  }
  std::sort(ends.begin(), ends.end());
  ends.erase(std::unique(ends.begin(), ends.end()), ends.end());
  std::string text;
  for (const std::string& end : ends) text += end + "\n";
  return text;
}

void check_cured(const Rulebase& rules, const CauseSteps& steps, Diagnostics& diagnostics) {
  if (rules.repairs.empty()) return;
  for (std::size_t i = 0; i < rules.causes.size(); ++i) {
    if (!steps.cured_by[i].empty()) continue;
    const std::string& name = rules.causes[i].header.name;
    diagnostics.add(
        not_cured, rules.causes[i].header.place,
        fmt::format("no repair cures `{0}`, so no plan can end with it; write `cures {0}` at "
                    "a repair",
                    name));
  }
}

// History can tell two causes apart as well as a check can, so causes with conditions are left
// alone, and it is no loss if one repair cures both.
void check_told_apart(const Rulebase& rules, const CauseSteps& steps, Diagnostics& diagnostics) {
  if (rules.checks.empty()) return;
  std::map<std::string, std::size_t> first;
  for (std::size_t i = 0; i < rules.causes.size(); ++i) {
    const Cause& cause = rules.causes[i];
    if (!cause.becomes.empty() || !cause.restrictions.empty() || steps.flagged[i]) continue;
    const std::string ends = ends_of(rules, cause);
    if (ends.empty()) continue;
    const auto [known, is_new] = first.try_emplace(ends, i);
    if (is_new) continue;
    const auto& one = steps.cured_by[known->second];
    const bool same_repair = std::any_of(one.begin(), one.end(), [&](RepairId repair) {
      return steps.cured_by[i].contains(repair);
    });
    if (same_repair) continue;
    const Header& other = rules.causes[known->second].header;
    auto& diagnostic = diagnostics.add(
        cannot_be_told_apart, cause.header.place,
        fmt::format(
            "`{}` and `{}` show the same things, no check tells them apart, and no repair cures "
            "both",
            other.name, cause.header.name));
    diagnostic.notes.push_back({other.place, fmt::format("`{}` is declared here", other.name)});
  }
}

struct CausesNamed {
  std::vector<CauseId> operator()(const TrialExpectation::First& e) const {
    return {e.cause.cause};
  }
  std::vector<CauseId> operator()(const TrialExpectation::Among& e) const {
    return {e.cause.cause};
  }
  std::vector<CauseId> operator()(const TrialExpectation::Chance& e) const {
    return {e.cause.cause};
  }
  std::vector<CauseId> operator()(const TrialExpectation::Before& e) const {
    return {e.cause.cause, e.other.cause};
  }
  std::vector<CauseId> operator()(const TrialExpectation::NotJudged& e) const {
    return {e.cause.cause};
  }
  std::vector<CauseId> operator()(const TrialExpectation::Next&) const { return {}; }
  std::vector<CauseId> operator()(const TrialExpectation::State&) const { return {}; }
};

}  // namespace

void warn_of_causes_without_steps(const Rulebase& rules, Diagnostics& diagnostics) {
  const CauseSteps steps = steps_of(rules);
  check_cured(rules, steps, diagnostics);
  check_told_apart(rules, steps, diagnostics);
}

void warn_of_untried_causes(const Rulebase& rules, Diagnostics& diagnostics) {
  std::set<SourceId> with_trials;
  std::vector<bool> named(rules.causes.size());
  for (const Trial& trial : rules.trials) {
    with_trials.insert(trial.place.source);
    for (const TrialExpectation& expected : trial.expectations) {
      for (const CauseId cause : std::visit(CausesNamed{}, expected.what)) named[cause.at()] = true;
    }
  }
  for (std::size_t i = 0; i < rules.causes.size(); ++i) {
    const Header& header = rules.causes[i].header;
    if (named[i] || !with_trials.contains(header.place.source)) continue;
    diagnostics.add(not_tried, header.place,
                    fmt::format("no trial expects anything of `{}`", header.name));
  }
}

}  // namespace slipcase::rulebase
