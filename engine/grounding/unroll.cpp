// Lines written for "any member" as lines for each member.
#include "grounding/unroll.h"

#include <algorithm>

#include "grounding/reach.h"

namespace slipcase::grounding {

namespace {

bool holds_for(rulebase::OnlyFor only_for, std::optional<MemberId> member) {
  return !only_for || only_for == member;
}

const rulebase::Header& header_of_end(const GroundRules& ground, const rulebase::Link& line) {
  if (const auto* inside = std::get_if<rulebase::InsideId>(&line.to))
    return ground.rules->insides.at(inside->at()).header;
  return ground.rules->findings.at(std::get<rulebase::FindingId>(line.to).at()).header;
}

void add_shows(GroundRules& ground, Source from, std::optional<MemberId> member,
               const std::vector<rulebase::Link>& lines) {
  for (const auto& line : lines) {
    if (!holds_for(line.only_for, member)) continue;
    for (const auto target : reached(ground.rules->unit, line.reach, member)) {
      if (!header_of_end(ground, line).in_use(target)) continue;
      GroundLink link{from, GroundInside{}, &line};
      if (const auto* inside = std::get_if<rulebase::InsideId>(&line.to)) {
        link.to = GroundInside{ground.insides.at(inside->index, target)};
      } else {
        const auto finding = std::get<rulebase::FindingId>(line.to);
        link.to = GroundFinding{ground.findings.at(finding.index, target)};
      }
      ground.shows.push_back(link);
    }
  }
}

void add_then_causes(GroundRules& ground, GroundCause from, std::optional<MemberId> member,
                     const std::vector<rulebase::CauseLink>& lines) {
  for (const auto& line : lines) {
    if (!holds_for(line.only_for, member)) continue;
    for (const auto target : reached(ground.rules->unit, line.reach, member)) {
      if (!ground.rules->causes.at(line.to.at()).header.in_use(target)) continue;
      ground.then_causes.push_back(
          {from, GroundCause{ground.causes.at(line.to.index, target)}, &line});
    }
  }
}

using NamedEvidence = rulebase::Named<rulebase::ReadingId, rulebase::FindingId, rulebase::DetailId>;

/// Every ground number of one kind that the list names.
template <class Declared>
std::vector<bool> named(const std::vector<NamedEvidence>& list, const Layout& layout) {
  std::vector<bool> in_list(layout.size());
  for (const auto& entry : list) {
    const auto* declared = std::get_if<Declared>(&entry.what);
    if (declared == nullptr) continue;
    for (std::size_t i = layout.first[declared->at()]; i < layout.size(); ++i) {
      if (layout.origins[i].declaration != declared->index) break;
      if (!entry.member || entry.member == layout.origins[i].member) in_list[i] = true;
    }
  }
  return in_list;
}

template <class Declared, class Ground>
void set_aside(const rulebase::Distrust& distrust, const Layout& layout, std::vector<Ground>& out) {
  const auto aside = named<Declared>(distrust.sets_aside, layout);
  const auto kept = named<Declared>(distrust.except, layout);
  for (std::uint32_t i = 0; i < layout.size(); ++i) {
    if (aside[i] && !kept[i]) out.push_back(Ground{i});
  }
}

using NamedCause = rulebase::Named<rulebase::CauseId, rulebase::GroupId>;

bool names(const NamedCause& entry, const Origin& origin, const rulebase::Cause& cause) {
  if (const auto* group = std::get_if<rulebase::GroupId>(&entry.what)) return cause.group == *group;
  return std::get<rulebase::CauseId>(entry.what).index == origin.declaration &&
         (!entry.member || entry.member == origin.member);
}

std::vector<bool> not_judged(const GroundRules& ground, const rulebase::Distrust& distrust) {
  std::vector<bool> barred(ground.causes.size());
  for (std::size_t i = 0; i < barred.size(); ++i) {
    const Origin& origin = ground.causes.origins[i];
    const auto& cause = ground.rules->causes.at(origin.declaration);
    const auto named_here = [&](const NamedCause& entry) { return names(entry, origin, cause); };
    const bool left_out =
        !distrust.judge_only.empty() && std::ranges::none_of(distrust.judge_only, named_here);
    barred[i] = left_out || std::ranges::any_of(distrust.not_judged, named_here);
  }
  return barred;
}

}  // namespace

void unroll_links(GroundRules& ground) {
  const auto& rules = *ground.rules;
  for (std::uint32_t i = 0; i < ground.causes.size(); ++i) {
    const Origin& origin = ground.causes.origins[i];
    const auto& cause = rules.causes[origin.declaration];
    if (!cause.header.in_use(origin.member)) continue;
    add_shows(ground, GroundCause{i}, origin.member, cause.shows);
    add_then_causes(ground, GroundCause{i}, origin.member, cause.causes);
  }
  for (std::uint32_t i = 0; i < ground.insides.size(); ++i) {
    const Origin& origin = ground.insides.origins[i];
    const auto& inside = rules.insides[origin.declaration];
    if (!inside.header.in_use(origin.member)) continue;
    add_shows(ground, GroundInside{i}, origin.member, inside.shows);
  }
}

void unroll_flags(GroundRules& ground) {
  for (std::uint32_t i = 0; i < ground.checks.size(); ++i) {
    const Origin& origin = ground.checks.origins[i];
    const auto& check = ground.rules->checks[origin.declaration];
    if (!check.finding) continue;
    const GroundFinding finding{ground.findings.at(check.finding->index, origin.member)};
    for (const auto& line : check.flags) {
      for (const auto target : reached(ground.rules->unit, line.reach, origin.member)) {
        if (!ground.rules->causes.at(line.cause.at()).header.in_use(target)) continue;
        ground.flags.push_back(
            {GroundCause{ground.causes.at(line.cause.index, target)}, finding, &line});
      }
    }
  }
}

void unroll_at_most_one(GroundRules& ground) {
  const auto& rules = *ground.rules;
  std::vector<std::pair<std::uint32_t, std::uint32_t>> stands_in;
  for (const auto& line : rules.at_most_one) {
    // One list per member; without `per` a single one, with every member of what it names.
    const std::size_t lists = rules.unit.member_count(line.per);
    for (std::uint32_t member = 0; member < lists; ++member) {
      GroundAtMostOne made{{}, &line};
      for (const auto finding : line.findings) {
        const auto scope = rules.findings.at(finding.at()).header.scope;
        const auto first = ground.findings.first[finding.at()];
        const auto count = static_cast<std::uint32_t>(rules.unit.member_count(scope));
        for (std::uint32_t i = 0; i < count; ++i) {
          if (line.per && scope == line.per && i != member) continue;
          if (scope && !rules.findings.at(finding.at()).header.in_use(MemberId{i})) continue;
          made.findings.push_back(GroundFinding{first + i});
          stands_in.emplace_back(first + i, static_cast<std::uint32_t>(ground.at_most_one.size()));
        }
      }
      ground.at_most_one.push_back(std::move(made));
    }
  }
  ground.at_most_one_of = lists_from(ground.findings.size(), stands_in);
}

void unroll_distrusts(GroundRules& ground) {
  std::vector<std::pair<std::uint32_t, std::uint32_t>> readings, findings, details;
  for (std::uint32_t index = 0; index < ground.rules->distrusts.size(); ++index) {
    const auto& distrust = ground.rules->distrusts[index];
    GroundDistrust made;
    made.declaration = index;
    set_aside<rulebase::ReadingId>(distrust, ground.readings, made.readings);
    set_aside<rulebase::FindingId>(distrust, ground.findings, made.findings);
    set_aside<rulebase::DetailId>(distrust, ground.details, made.details);
    made.not_judged = not_judged(ground, distrust);
    for (const auto reading : made.readings) readings.emplace_back(reading.index, index);
    for (const auto finding : made.findings) findings.emplace_back(finding.index, index);
    for (const auto detail : made.details) details.emplace_back(detail.index, index);
    ground.distrusts.push_back(std::move(made));
  }
  ground.distrusts_of_reading = lists_from(ground.readings.size(), readings);
  ground.distrusts_of_finding = lists_from(ground.findings.size(), findings);
  ground.distrusts_of_detail = lists_from(ground.details.size(), details);
}

Lists lists_from(std::size_t size,
                 const std::vector<std::pair<std::uint32_t, std::uint32_t>>& pairs) {
  Lists lists;
  std::vector<std::uint32_t> counts(size);
  for (const auto& pair : pairs) ++counts[pair.first];
  lists.starts.assign(size + 1, 0);
  for (std::size_t i = 0; i < size; ++i) lists.starts[i + 1] = lists.starts[i] + counts[i];
  std::vector<std::uint32_t> filled(lists.starts.begin(), lists.starts.end() - 1);
  lists.items.resize(pairs.size());
  for (const auto& pair : pairs) lists.items[filled[pair.first]++] = pair.second;
  return lists;
}

}  // namespace slipcase::grounding
