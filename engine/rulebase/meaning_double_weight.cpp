#include <algorithm>
#include <map>
#include <set>

#include <fmt/core.h>

#include "rulebase/meaning.h"
#include "rulebase/messages.h"
#include "rulebase/selected.h"
#include "rulebase/uses.h"

namespace slipcase::rulebase {

namespace {

// Four answers at eight of ten each against one of a hundred make odds of four thousand.
constexpr std::size_t many = 4;
// Below this a link says so little that several of them still say little.
constexpr double strong_share = 0.3;

struct Ends {
  std::size_t members = 0;
  const Link* first = nullptr;
};

// Direct findings only: what stands under an inside counts once, which is the remedy.
void check_many(const Rulebase& rules, const Cause& cause, Diagnostics& diagnostics) {
  std::map<FindingId, Ends> most;
  const auto count = static_cast<std::uint32_t>(rules.unit.member_count(cause.header.scope));
  for (std::uint32_t m = 0; m < count; ++m) {
    std::map<FindingId, Ends> ends;
    for (const Link& link : cause.shows) {
      const auto* finding = std::get_if<FindingId>(&link.to);
      const bool fits = !link.only_for || *link.only_for == MemberId{m};
      const auto& share = link.count.at_least.front();
      if (finding == nullptr || !fits || !share || share->share().value() < strong_share) continue;
      Ends& end = ends[*finding];
      end.members += reached(rules.unit, link.reach, MemberId{m}).size();
      if (end.first == nullptr) end.first = &link;
    }
    for (const auto& [finding, end] : ends) {
      if (end.members > most[finding].members) most[finding] = end;
    }
  }
  for (const auto& [finding, end] : most) {
    if (end.members < many) continue;
    const Header& header = rules.findings[finding.at()].header;
    diagnostics.add(
        many_witnesses, end.first->place,
        fmt::format("`{}` shows `{}` of {} {} one by one, and {} yes answers count {} times; "
                    "if they come together, put an `inside` between",
                    cause.header.name, header.name, end.members,
                    rules.unit.scope(*header.scope).plural, end.members, end.members));
  }
}

std::set<ReadingId> readings_of(const Finding& finding) {
  Uses uses;
  if (finding.when) collect_uses(**finding.when, uses);
  for (const GradeLine& grade : finding.grades) {
    if (grade.when) collect_uses(**grade.when, uses);
  }
  std::set<ReadingId> readings;
  for (const ReadingUse& use : uses.readings) {
    if (!is_of_profile(use.function)) readings.insert(use.reading);
  }
  return readings;
}

bool exclude_each_other(const Rulebase& rules, FindingId a, FindingId b) {
  const auto has = [](const AtMostOne& group, FindingId id) {
    return std::find(group.findings.begin(), group.findings.end(), id) != group.findings.end();
  };
  return std::any_of(rules.at_most_one.begin(), rules.at_most_one.end(),
                     [&](const AtMostOne& group) { return has(group, a) && has(group, b); });
}

// Two lines can meet in one member of one scope; a finding without a scope is about all of them.
bool can_meet(const Rulebase& rules, const Cause& cause, const Link& a, const Link& b) {
  const auto scope_of = [&](const Link& link) {
    return rules.findings[std::get<FindingId>(link.to).at()].header.scope;
  };
  if (!scope_of(a) || scope_of(a) != scope_of(b)) return true;
  const auto count = static_cast<std::uint32_t>(rules.unit.member_count(cause.header.scope));
  for (std::uint32_t m = 0; m < count; ++m) {
    const MemberId own{m};
    if ((a.only_for && *a.only_for != own) || (b.only_for && *b.only_for != own)) continue;
    const auto of_a = reached(rules.unit, a.reach, own);
    const auto of_b = reached(rules.unit, b.reach, own);
    const bool meet = std::any_of(of_a.begin(), of_a.end(), [&](MemberId member) {
      return std::find(of_b.begin(), of_b.end(), member) != of_b.end();
    });
    if (meet) return true;
  }
  return false;
}

class SameReading {
 public:
  SameReading(const Rulebase& rules, Diagnostics& diagnostics)
      : rules_(rules), diagnostics_(diagnostics) {
    for (const Finding& finding : rules.findings) readings_.push_back(readings_of(finding));
  }

  void check(const Cause& cause) {
    std::vector<const Link*> from_readings;
    for (const Link& link : cause.shows) {
      const auto* finding = std::get_if<FindingId>(&link.to);
      if (finding == nullptr || readings_[finding->at()].empty()) continue;
      for (const Link* other : from_readings) {
        // One message a line: the next pair says the same.
        if (check_pair(cause, *other, link)) break;
      }
      from_readings.push_back(&link);
    }
  }

 private:
  bool check_pair(const Cause& cause, const Link& first, const Link& second) {
    const auto a = std::get<FindingId>(first.to);
    const auto b = std::get<FindingId>(second.to);
    if (a == b || first.place == second.place || exclude_each_other(rules_, a, b)) return false;
    const auto& of_a = readings_[a.at()];
    const auto& of_b = readings_[b.at()];
    const auto shared = std::find_if(of_a.begin(), of_a.end(),
                                     [&](ReadingId reading) { return of_b.contains(reading); });
    if (shared == of_a.end() || !can_meet(rules_, cause, first, second)) return false;
    auto& diagnostic = diagnostics_.add(
        same_reading_twice, second.place,
        fmt::format(
            "`{}` shows `{}` and `{}`, both worked out from `{}`: one reading counts twice; put "
            "an `inside` between, or write `at most one of` if only one can be there",
            cause.header.name, rules_.findings[a.at()].header.name,
            rules_.findings[b.at()].header.name, rules_.readings[shared->at()].header.name));
    diagnostic.notes.push_back({first.place, "the other line is here"});
    return true;
  }

  const Rulebase& rules_;
  Diagnostics& diagnostics_;
  std::vector<std::set<ReadingId>> readings_;
};

// A layer that raises a member's count and multiplies it too: the reason may be in both.
void check_raised(const Rulebase& rules, const Cause& cause, Diagnostics& diagnostics) {
  if (!cause.found.all) return;
  const double before = cause.found.all->count.share_at_least_half().value();
  for (const auto& [member, line] : cause.found.of_member) {
    const bool raised = line.count.share_at_least_half().value() > before;
    const bool by_layer = line.place.source != cause.found.all->place.source;
    if (!raised || !by_layer) continue;
    for (const Becomes& becomes : cause.becomes) {
      const bool fits = !becomes.only_for || *becomes.only_for == member;
      const bool same_layer = becomes.place.source == line.place.source;
      if (!fits || !same_layer || becomes.times <= 1.0) continue;
      const std::string& name = rules.unit.scope(*cause.header.scope).members.at(member.at());
      auto& diagnostic = diagnostics.add(
          raised_twice, becomes.place,
          fmt::format(
              "`{}` of {} is raised to {} and also multiplied by {:g}; is what the multiplier "
              "asks for in the count already?",
              cause.header.name, name, line.count.text(), becomes.times));
      diagnostic.notes.push_back({line.place, "it is raised here"});
    }
  }
}

}  // namespace

void warn_of_double_weight(const Rulebase& rules, Diagnostics& diagnostics) {
  SameReading same_reading(rules, diagnostics);
  for (const Cause& cause : rules.causes) {
    check_many(rules, cause, diagnostics);
    same_reading.check(cause);
    check_raised(rules, cause, diagnostics);
  }
}

}  // namespace slipcase::rulebase
