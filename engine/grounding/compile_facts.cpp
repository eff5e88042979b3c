// Compiler: what a condition asks of details, findings, events and trouble codes.
#include <algorithm>

#include "grounding/compile.h"

namespace slipcase::grounding {

std::uint32_t Compiler::detail_at(rulebase::DetailId detail, const rulebase::Term& term) const {
  return ground_.details.at(detail.index, member_of(term, bindings_));
}

std::uint32_t Compiler::finding_at(rulebase::FindingId finding, const rulebase::Term& term) const {
  return ground_.findings.at(finding.index, member_of(term, bindings_));
}

bool Compiler::own_value(rulebase::FindingId finding) const {
  return asker_.own_values != nullptr && asker_.own_values->at(finding.at());
}

EventAsked Compiler::asked(const rulebase::EventUse& use) const {
  return {GroundEvent{ground_.events.at(use.event.index, member_of(use.member, bindings_))},
          use.by};
}

Compiler::Constant Compiler::node(const rulebase::DetailIs& node) {
  push(Operation::detail_is, detail_at(node.detail, node.member), node.word);
  ground_.programs.code.back().exempt = asker_.exempt;
  return std::nullopt;
}

Compiler::Constant Compiler::node(const rulebase::DetailYes& node) {
  push(Operation::detail_yes, detail_at(node.detail, node.member));
  ground_.programs.code.back().exempt = asker_.exempt;
  return std::nullopt;
}

Compiler::Constant Compiler::node(const rulebase::FindingHolds& node) {
  push(Operation::finding_holds, finding_at(node.finding, node.member), node.grade);
  ground_.programs.code.back().own_value = own_value(node.finding);
  return std::nullopt;
}

Compiler::Constant Compiler::node(const rulebase::IsKnown& node) {
  if (const auto* asked_value = std::get_if<rulebase::ValuePtr>(&node.what)) {
    const std::uint32_t index = value(**asked_value);
    if (table_.number_of(index)) return yes;
    push(Operation::value_known, index);
    return std::nullopt;
  }
  const auto& reference = std::get<rulebase::IsKnown::FindingRef>(node.what);
  push(Operation::finding_known, finding_at(reference.finding, reference.member));
  ground_.programs.code.back().own_value = own_value(reference.finding);
  return std::nullopt;
}

namespace {

using CodeSpan = std::pair<units::TroubleCode, units::TroubleCode>;

bool overlap(const CodeSpan& a, const CodeSpan& b) {
  return a.first <= b.second && b.first <= a.second;
}

/// All of `span` lies in the union of the ranges.
bool covered(const CodeSpan& span, std::vector<CodeSpan> ranges) {
  std::ranges::sort(ranges);
  std::uint32_t next = span.first.bits();
  for (const CodeSpan& range : ranges) {
    if (range.first.bits() > next) break;
    next = std::max<std::uint32_t>(next, range.second.bits() + 1U);
  }
  return next > span.second.bits();
}

/// Whose codes these are, where a rule names them by number.
std::vector<std::pair<ScopeId, MemberId>> members_with_codes(
    const std::vector<profile::CodeMap>& maps, const std::vector<CodeSpan>& ranges) {
  std::vector<std::pair<ScopeId, MemberId>> members;
  const auto asked = [&ranges](units::TroubleCode code) {
    return std::ranges::any_of(ranges, [code](const CodeSpan& range) {
      return range.first <= code && code <= range.second;
    });
  };
  for (const profile::CodeMap& map : maps) {
    if (!map.scope) continue;
    for (std::uint32_t member = 0; member < map.codes.size(); ++member) {
      if (std::ranges::any_of(map.codes[member], asked))
        members.emplace_back(*map.scope, MemberId{member});
    }
  }
  return members;
}

}  // namespace

CodeQuestion Compiler::code_question(bool pending, std::vector<CodeSpan> ranges) const {
  const auto& profile = *ground_.profile;
  CodeQuestion question;
  question.pending = pending;
  question.ranges = std::move(ranges);
  std::vector<CodeSpan> held;
  for (std::uint32_t index = 0; index < profile.controllers.size(); ++index) {
    const auto& controller = profile.controllers[index];
    held.insert(held.end(), controller.ranges.begin(), controller.ranges.end());
    const bool asked_here = std::ranges::any_of(question.ranges, [&](const CodeSpan& wanted) {
      return std::ranges::any_of(controller.ranges,
                                 [&](const CodeSpan& range) { return overlap(wanted, range); });
    });
    if (asked_here) question.holders.push_back(index);
  }
  // A code that no controller is said to hold belongs to the unit's own.
  question.own = !std::ranges::all_of(
      question.ranges, [&](const CodeSpan& wanted) { return covered(wanted, held); });
  return question;
}

Compiler::Constant Compiler::node(const rulebase::CodeRange& node) {
  CodeQuestion question = code_question(node.pending, {{node.first, node.last}});
  question.driven = members_with_codes(ground_.profile->code_maps, question.ranges);
  push(Operation::question, table_.question(question));
  return std::nullopt;
}

Compiler::Constant Compiler::node(const rulebase::CodeOfFamily& node) {
  const auto& name = ground_.rules->unit.code_families.at(node.family.at()).name;
  const auto& maps = ground_.profile->code_maps;
  const auto map =
      std::ranges::find_if(maps, [&](const profile::CodeMap& m) { return m.family == name; });
  const auto member = member_of(node.member, bindings_);
  if (map == maps.end()) return unknown;
  std::vector<CodeSpan> ranges;
  for (const units::TroubleCode code : map->codes.at(member ? member->at() : 0)) {
    ranges.emplace_back(code, code);
  }
  // A member without a code of its own: that none is stored says nothing.
  if (ranges.empty()) return unknown;
  CodeQuestion question = code_question(node.pending, std::move(ranges));
  if (map->scope && member) question.driven = {{*map->scope, *member}};
  push(Operation::question, table_.question(question));
  return std::nullopt;
}

Compiler::Constant Compiler::node(const rulebase::Happened& node) {
  HappenedQuestion question;
  question.on_card = node.on_card;
  question.event = asked(node.event);
  if (node.since) question.since = asked(*node.since);
  push(Operation::question, table_.question(question));
  return std::nullopt;
}

Compiler::Constant Compiler::node(const rulebase::SoonAfter& node) {
  SoonAfterQuestion question;
  question.later = asked(node.later);
  question.earlier = asked(node.earlier);
  question.at_most = node.at_most.value;
  question.distance = node.at_most.dimension == units::of(units::Base::distance);
  push(Operation::question, table_.question(question));
  return std::nullopt;
}

}  // namespace slipcase::grounding
