// Refusals that need several declarations at once.
#include <algorithm>
#include <tuple>

#include <fmt/core.h>

#include "rulebase/evidence.h"
#include "rulebase/messages.h"
#include "rulebase/selected.h"
#include "rulebase/uses.h"
#include "rulebase/whole.h"

namespace slipcase::rulebase {

namespace {

// What one line of a declaration reaches for one of its members.
struct Reached {
  std::uint32_t kind;  // what the target is: finding, inside, cause
  std::uint32_t target;
  MemberId member;
  std::uint32_t line;  // in rule order
};

class ReachCheck {
 public:
  explicit ReachCheck(Context& context) : context_(context), rules_(context.rules) {}

  void check(const Header& header, const std::vector<Link>& shows,
             const std::vector<CauseLink>& causes) {
    const auto count = static_cast<std::uint32_t>(rules_.unit.member_count(header.scope));
    reported_.clear();
    for (std::uint32_t m = 0; m < count; ++m) {
      reached_.clear();
      places_.clear();
      for (const Link& link : shows) add(link, kind_of(link), target_of(link), MemberId{m});
      for (const CauseLink& link : causes) add(link, 2U, link.to.index, MemberId{m});
      report_same(header, MemberId{m});
    }
  }

 private:
  static std::uint32_t kind_of(const Link& link) {
    return std::holds_alternative<FindingId>(link.to) ? 0U : 1U;
  }
  static std::uint32_t target_of(const Link& link) {
    if (const auto* finding = std::get_if<FindingId>(&link.to)) return finding->index;
    return std::get<InsideId>(link.to).index;
  }

  template <class Line>
  void add(const Line& line, std::uint32_t kind, std::uint32_t target, MemberId own) {
    if (line.only_for && *line.only_for != own) return;
    const auto number = static_cast<std::uint32_t>(places_.size());
    places_.push_back(line.place);
    for (const MemberId member : reached(rules_.unit, line.reach, own)) {
      reached_.push_back({kind, target, member, number});
    }
  }

  const Header& header_of(const Reached& end) const {
    if (end.kind == 0) return rules_.findings[end.target].header;
    if (end.kind == 1) return rules_.insides[end.target].header;
    return rules_.causes[end.target].header;
  }

  void report_same(const Header& header, MemberId own) {
    const auto key = [](const Reached& r) {
      return std::make_tuple(r.kind, r.target, r.member, r.line);
    };
    std::sort(reached_.begin(), reached_.end(),
              [&](const Reached& a, const Reached& b) { return key(a) < key(b); });
    for (std::size_t i = 1; i < reached_.size(); ++i) {
      const Reached& a = reached_[i - 1];
      const Reached& b = reached_[i];
      if (a.kind != b.kind || a.target != b.target || a.member != b.member) continue;
      report(header, own, a, b);
    }
  }

  // One message for a pair of lines, for the first member where they meet.
  void report(const Header& header, MemberId own, const Reached& first, const Reached& second) {
    const std::pair<Place, Place> lines{places_[first.line], places_[second.line]};
    if (std::find(reported_.begin(), reported_.end(), lines) != reported_.end()) return;
    reported_.push_back(lines);
    auto& diagnostic = context_.error(
        reached_twice, lines.second,
        fmt::format("`{}` leads to `{}` twice, by this line and another; it would count double",
                    name_with_member(rules_.unit, header, own),
                    name_with_member(rules_.unit, header_of(second), second.member)));
    diagnostic.notes.push_back({lines.first, "the other line is here"});
  }

  Context& context_;
  const Rulebase& rules_;
  std::vector<Reached> reached_;
  std::vector<Place> places_;
  std::vector<std::pair<Place, Place>> reported_;
};

template <class Line, class IdOf>
void check_targets(Context& context, const Header& header, const std::vector<Line>& lines,
                   std::string_view word, const IdOf& place_of) {
  const Rulebase& rules = context.rules;
  const auto count = static_cast<std::uint32_t>(rules.unit.member_count(header.scope));
  for (std::uint32_t m = 0; m < count; ++m) {
    std::vector<std::pair<CauseId, MemberId>> ends;
    for (const Line& line : lines) {
      for (const MemberId member : reached(rules.unit, line.reach, MemberId{m})) {
        ends.emplace_back(line.cause, member);
      }
    }
    std::sort(ends.begin(), ends.end());
    const auto same = std::adjacent_find(ends.begin(), ends.end());
    if (same == ends.end()) continue;
    context.error(reached_twice, place_of(),
                  fmt::format("`{}` {} `{}` twice; leave one out",
                              name_with_member(rules.unit, header, MemberId{m}), word,
                              name_with_member(rules.unit, rules.causes[same->first.at()].header,
                                               same->second)));
    return;
  }
}

/// The first member of which nothing says how often it is there.
std::optional<MemberId> without_rate(const UnitVocabulary& unit, const Finding& finding) {
  const auto count = static_cast<std::uint32_t>(unit.member_count(finding.header.scope));
  for (std::uint32_t m = 0; m < count; ++m) {
    const MemberId member{m};
    const bool has =
        finding.otherwise.at(member) != nullptr || finding.overall.at(member) != nullptr;
    if (!has && finding.header.in_use(member)) return member;
  }
  return std::nullopt;
}

/// Else a line for all is there and was wrong.
bool only_of_members(const Finding& finding) {
  return !finding.otherwise.of_member.empty() || !finding.overall.of_member.empty();
}

void check_condition(Context& context, const Evidence& evidence, const Condition& condition,
                     std::string_view word) {
  const auto found = evidence.shown_in(condition);
  if (!found) return;
  auto& diagnostic = context.error(
      counts_it_twice, found->asked,
      fmt::format("`{}` may ask details, events and the profile only: {}", word, found->why));
  if (found->shown) diagnostic.notes.push_back({found->shown, "it is shown by this line"});
}

}  // namespace

void check_reached_twice(Context& context) {
  ReachCheck check(context);
  for (const Cause& cause : context.rules.causes) {
    check.check(cause.header, cause.shows, cause.causes);
  }
  for (const Inside& inside : context.rules.insides) check.check(inside.header, inside.shows, {});
  for (const Check& step : context.rules.checks) {
    check_targets(context, step.header, step.flags, "flags",
                  [&] { return step.flags.back().place; });
  }
  for (const Repair& step : context.rules.repairs) {
    check_targets(context, step.header, step.cures, "cures", [&] { return step.header.place; });
  }
}

void check_counts_twice(Context& context) {
  const Evidence evidence(context.rules);
  for (const Cause& cause : context.rules.causes) {
    std::vector<Place> done;
    const auto is_new = [&](const Place& place) {
      // A line revised for one member stands there once for each of the others.
      if (std::find(done.begin(), done.end(), place) != done.end()) return false;
      done.push_back(place);
      return true;
    };
    for (const Becomes& line : cause.becomes) {
      if (is_new(line.place)) check_condition(context, evidence, *line.when, "becomes");
    }
    for (const Restriction& line : cause.restrictions) {
      if (!is_new(line.place)) continue;
      check_condition(context, evidence, *line.when,
                      line.never ? "never when" : "possible only when");
    }
  }
}

void check_rates(Context& context) {
  const Evidence evidence(context.rules);
  for (std::uint32_t i = 0; i < context.rules.findings.size(); ++i) {
    const Finding& finding = context.rules.findings[i];
    const auto shown = evidence.shown_by(FindingId{i});
    if (!shown || finding.result_of_check) continue;
    const auto without = without_rate(context.rules.unit, finding);
    const bool has_line = context.has_rate_line(FindingId{i});
    if (!without || (has_line && !only_of_members(finding))) continue;
    auto& diagnostic = context.error(
        clause_missing, finding.header.place,
        fmt::format(
            "nothing says how often `{}` is there without a listed cause; write `overall in 4 "
            "of 100 jobs` (of all cars that come in) or `otherwise in 1 of 100 jobs` (of cars "
            "with none of the causes that show it)",
            has_line ? name_with_member(context.rules.unit, finding.header, *without)
                     : finding.header.name));
    diagnostic.notes.push_back({shown, "it is shown by this line"});
  }
}

void check_something_judged(Context& context) {
  const Rulebase& rules = context.rules;
  if (rules.causes.empty()) return;
  for (const Distrust& distrust : rules.distrusts) {
    const auto names = [&](const std::vector<Named<CauseId, GroupId>>& list, std::uint32_t cause) {
      return std::any_of(list.begin(), list.end(), [&](const auto& entry) {
        if (const auto* id = std::get_if<CauseId>(&entry.what)) {
          return id->index == cause && !entry.member;
        }
        return rules.causes[cause].group == std::get<GroupId>(entry.what);
      });
    };
    bool any = false;
    for (std::uint32_t c = 0; c < rules.causes.size() && !any; ++c) {
      any = !names(distrust.not_judged, c);
    }
    if (any) continue;
    context.error(
        distrust_all, distrust.header.place,
        fmt::format("`{}` leaves no cause to judge, so nothing would be ranked; write `judge "
                    "only ...` with the causes that stay",
                    distrust.header.name));
  }
}

}  // namespace slipcase::rulebase
