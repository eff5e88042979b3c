#include <algorithm>

#include <fmt/core.h>

#include "rulebase/evidence.h"
#include "rulebase/meaning.h"
#include "rulebase/messages.h"
#include "rulebase/uses.h"
#include "support/near_names.h"
#include "support/suggest.h"

namespace slipcase::rulebase {

namespace {

// What conditions, distrusts and steps ask or wait for.
class Needed {
 public:
  explicit Needed(const Rulebase& rules)
      : findings_(rules.findings.size()),
        details_(rules.details.size()),
        events_(rules.events.size()),
        repairs_(rules.repairs.size()) {
    Uses uses;
    for_each_rule_condition(
        rules, [&](const Header&, const Condition& condition) { collect_uses(condition, uses); });
    for (const FindingUse& use : uses.findings) findings_[use.finding.at()] = true;
    for (const DetailUse& use : uses.details) details_[use.detail.at()] = true;
    for (const EventUse& use : uses.events) events_[use.event.at()] = true;
    for (const Distrust& distrust : rules.distrusts) {
      for (const auto& entry : distrust.until) mark(entry.what);
    }
    for (const Check& check : rules.checks) mark_steps(check);
    for (const Repair& repair : rules.repairs) mark_steps(repair);
    mark_origins(rules);
  }

  [[nodiscard]] bool has(FindingId id) const { return findings_[id.at()]; }
  [[nodiscard]] bool has(DetailId id) const { return details_[id.at()]; }
  [[nodiscard]] bool has(EventId id) const { return events_[id.at()]; }
  [[nodiscard]] bool has(RepairId id) const { return repairs_[id.at()]; }

 private:
  void mark(const std::variant<CheckId, RepairId, EventId>& what) {
    if (const auto* event = std::get_if<EventId>(&what)) events_[event->at()] = true;
    if (const auto* repair = std::get_if<RepairId>(&what)) repairs_[repair->at()] = true;
  }

  template <class Step>
  void mark_steps(const Step& step) {
    for (const StepTarget& target : step.only_after) mark(target.what);
    for (const StepTarget& target : step.follow_with) mark(target.what);
  }

  // What counts as something that is needed is needed itself.
  void mark_origins(const Rulebase& rules) {
    for (std::size_t i = 0; i < rules.events.size(); ++i) {
      const auto& counts_as = rules.events[i].counts_as;
      const bool needed = std::any_of(counts_as.begin(), counts_as.end(),
                                      [&](EventId to) { return events_[to.at()]; });
      if (needed || is_of_unit(rules, rules.events[i])) events_[i] = true;
    }
  }

  // The profile names events after which readings begin anew.
  static bool is_of_unit(const Rulebase& rules, const Event& event) {
    const auto& names = rules.unit.events;
    const auto named = [&](const std::string& name) {
      return std::find(names.begin(), names.end(), name) != names.end();
    };
    return named(event.header.name) ||
           std::any_of(event.counts_as.begin(), event.counts_as.end(),
                       [&](EventId to) { return named(rules.events[to.at()].header.name); });
  }

  std::vector<bool> findings_;
  std::vector<bool> details_;
  std::vector<bool> events_;
  std::vector<bool> repairs_;
};

void check_leads_nowhere(const Rulebase& rules, Diagnostics& diagnostics) {
  std::vector<bool> flagged(rules.causes.size());
  for (const Check& check : rules.checks) {
    for (const Flag& flag : check.flags) flagged[flag.cause.at()] = true;
  }
  for (std::size_t i = 0; i < rules.causes.size(); ++i) {
    const Cause& cause = rules.causes[i];
    if (!cause.shows.empty() || !cause.causes.empty() || flagged[i]) continue;
    diagnostics.add(
        shows_nothing, cause.header.place,
        fmt::format("`{}` shows nothing, so nothing that is seen can speak for it; write "
                    "`shows ...`",
                    cause.header.name));
  }
  for (const Inside& inside : rules.insides) {
    if (!inside.shows.empty()) continue;
    diagnostics.add(shows_nothing, inside.header.place,
                    fmt::format("`{}` shows nothing, so it changes nothing; write `shows ...`",
                                inside.header.name));
  }
}

void check_insides_fed(const Rulebase& rules, Diagnostics& diagnostics) {
  std::vector<bool> fed(rules.insides.size());
  const auto mark = [&](const std::vector<Link>& links) {
    for (const Link& link : links) {
      if (const auto* inside = std::get_if<InsideId>(&link.to)) fed[inside->at()] = true;
    }
  };
  for (const Cause& cause : rules.causes) mark(cause.shows);
  for (const Inside& inside : rules.insides) mark(inside.shows);
  for (std::size_t i = 0; i < rules.insides.size(); ++i) {
    if (fed[i]) continue;
    diagnostics.add(
        nothing_leads_here, rules.insides[i].header.place,
        fmt::format("no cause shows `{}`, so it speaks for none", rules.insides[i].header.name));
  }
}

void check_findings_fed(const Rulebase& rules, const Needed& needed, Diagnostics& diagnostics) {
  const Evidence evidence(rules);
  for (std::uint32_t i = 0; i < rules.findings.size(); ++i) {
    const Finding& finding = rules.findings[i];
    const bool used = evidence.shown_by(FindingId{i}) || needed.has(FindingId{i});
    if (used || finding.result_of_check) continue;
    diagnostics.add(
        nothing_leads_here, finding.header.place,
        fmt::format("no cause shows `{0}` and no condition asks it, so {1} changes nothing",
                    finding.header.name, finding.asks.empty() ? "it" : "answering it"));
  }
}

void check_questions(const Rulebase& rules, const Needed& needed, Diagnostics& diagnostics) {
  const auto warn = [&](const Header& header) {
    diagnostics.add(question_unused, header.place,
                    fmt::format("`{}` is asked, but no condition needs the answer", header.name));
  };
  for (std::uint32_t i = 0; i < rules.details.size(); ++i) {
    if (!rules.details[i].asks.empty() && !needed.has(DetailId{i})) warn(rules.details[i].header);
  }
  for (std::uint32_t i = 0; i < rules.events.size(); ++i) {
    if (!rules.events[i].asks.empty() && !needed.has(EventId{i})) warn(rules.events[i].header);
  }
}

void check_repairs(const Rulebase& rules, const Needed& needed, Diagnostics& diagnostics) {
  for (std::uint32_t i = 0; i < rules.repairs.size(); ++i) {
    const Repair& repair = rules.repairs[i];
    const bool used = needed.has(RepairId{i}) || needed.has(repair.event);
    if (!repair.cures.empty() || used) continue;
    diagnostics.add(
        cures_nothing, repair.header.place,
        fmt::format("`{}` cures nothing and nothing waits for it, so it is never offered; "
                    "write `cures ...`",
                    repair.header.name));
  }
}

/// How many causes are of each group; one that a distrust names counts as more than one.
std::vector<std::size_t> uses_of_groups(const Rulebase& rules) {
  std::vector<std::size_t> uses(rules.groups.size());
  for (const Cause& cause : rules.causes) {
    if (cause.group) ++uses[cause.group->at()];
  }
  const auto count_named = [&](const std::vector<Named<CauseId, GroupId>>& judged) {
    for (const auto& entry : judged) {
      if (const auto* group = std::get_if<GroupId>(&entry.what)) uses[group->at()] += 2;
    }
  };
  for (const Distrust& distrust : rules.distrusts) {
    count_named(distrust.judge_only);
    count_named(distrust.not_judged);
  }
  return uses;
}

/// A new group is fine; one of a single cause whose name is nearly that of another is a slip.
void check_groups(const Rulebase& rules, Diagnostics& diagnostics) {
  const std::vector<std::size_t> uses = uses_of_groups(rules);
  std::vector<std::string> in_use;
  for (std::size_t i = 0; i < uses.size(); ++i) {
    if (uses[i] > 1) in_use.push_back(rules.groups[i].name);
  }
  for (const Cause& cause : rules.causes) {
    if (!cause.group || uses[cause.group->at()] != 1) continue;
    const std::string& name = rules.groups[cause.group->at()].name;
    const NearNames near = near_names(name, in_use);
    if (near.names.empty()) continue;
    diagnostics.add(group_alone, cause.header.place,
                    fmt::format("`{}` is the only cause of the group `{}`, and no rule uses that "
                                "group, did you mean {}?",
                                cause.header.name, name, quoted_list(near.names)));
  }
}

}  // namespace

void warn_of_loose_ends(const Rulebase& rules, Diagnostics& diagnostics) {
  const Needed needed(rules);
  check_leads_nowhere(rules, diagnostics);
  check_insides_fed(rules, diagnostics);
  check_findings_fed(rules, needed, diagnostics);
  check_questions(rules, needed, diagnostics);
  check_repairs(rules, needed, diagnostics);
  check_groups(rules, diagnostics);
}

}  // namespace slipcase::rulebase
