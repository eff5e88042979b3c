// What ground things are called.
#include "grounding/ground.h"

namespace slipcase::grounding {

namespace {

using rulebase::Header;
using rulebase::UnitVocabulary;

const std::string& member_name(const UnitVocabulary& unit, ScopeId scope, MemberId member) {
  return unit.scope(scope).members.at(member.at());
}

std::string named(const UnitVocabulary& unit, const Header& header, const Origin& origin) {
  if (!header.scope || !origin.member) return header.name;
  return header.name + " of " + member_name(unit, *header.scope, *origin.member);
}

/// `{element}` in a text becomes the member's name.
std::string filled(const UnitVocabulary& unit, const Header& header, const Origin& origin,
                   std::string text) {
  if (!header.scope || !origin.member) return text;
  const std::string gap = "{" + unit.scope(*header.scope).name + "}";
  const std::string& member = member_name(unit, *header.scope, *origin.member);
  for (std::size_t at = text.find(gap); at != std::string::npos;
       at = text.find(gap, at + member.size())) {
    text.replace(at, gap.size(), member);
  }
  return text;
}

/// The ground number of "name of MEMBER" in a list of declarations.
template <class Declaration>
std::optional<std::uint32_t> find(const UnitVocabulary& unit, const Layout& layout,
                                  const std::vector<Declaration>& declarations,
                                  std::string_view name) {
  const std::size_t of = name.find(" of ");
  const std::string_view first = name.substr(0, of);
  for (std::uint32_t index = 0; index < declarations.size(); ++index) {
    const Header& header = declarations[index].header;
    if (header.name != first) continue;
    if (!header.scope) {
      return of == std::string_view::npos ? std::optional(layout.at(index, {})) : std::nullopt;
    }
    if (of == std::string_view::npos) return std::nullopt;
    const auto member = unit.find_member(*header.scope, name.substr(of + 4));
    return member ? std::optional(layout.at(index, member)) : std::nullopt;
  }
  return std::nullopt;
}

}  // namespace

const rulebase::Finding& GroundRules::declaration(GroundFinding finding) const {
  return rules->findings.at(findings.origins.at(finding.at()).declaration);
}
const rulebase::Cause& GroundRules::declaration(GroundCause cause) const {
  return rules->causes.at(causes.origins.at(cause.at()).declaration);
}
const rulebase::Inside& GroundRules::declaration(GroundInside inside) const {
  return rules->insides.at(insides.origins.at(inside.at()).declaration);
}

std::string GroundRules::name_of(GroundCause cause) const {
  return named(rules->unit, declaration(cause).header, causes.origins[cause.at()]);
}
std::string GroundRules::name_of(GroundInside inside) const {
  return named(rules->unit, declaration(inside).header, insides.origins[inside.at()]);
}
std::string GroundRules::name_of(GroundFinding finding) const {
  return named(rules->unit, declaration(finding).header, findings.origins[finding.at()]);
}
std::string GroundRules::name_of(GroundReading reading) const {
  const Origin& origin = readings.origins.at(reading.at());
  return named(rules->unit, rules->readings.at(origin.declaration).header, origin);
}
std::string GroundRules::name_of(GroundEvent event) const {
  const Origin& origin = events.origins.at(event.at());
  return named(rules->unit, rules->events.at(origin.declaration).header, origin);
}
std::string GroundRules::name_of(GroundDetail detail) const {
  const Origin& origin = details.origins.at(detail.at());
  return named(rules->unit, rules->details.at(origin.declaration).header, origin);
}
std::string GroundRules::name_of(GroundCheck check) const {
  const Origin& origin = checks.origins.at(check.at());
  return named(rules->unit, rules->checks.at(origin.declaration).header, origin);
}
std::string GroundRules::name_of(GroundRepair repair) const {
  const Origin& origin = repairs.origins.at(repair.at());
  return named(rules->unit, rules->repairs.at(origin.declaration).header, origin);
}

std::string GroundRules::says(GroundCause cause) const {
  const Header& header = declaration(cause).header;
  return filled(rules->unit, header, causes.origins[cause.at()], header.says);
}
std::string GroundRules::says(GroundInside inside) const {
  const Header& header = declaration(inside).header;
  return filled(rules->unit, header, insides.origins[inside.at()], header.says);
}
std::string GroundRules::says(GroundFinding finding) const {
  const Header& header = declaration(finding).header;
  return filled(rules->unit, header, findings.origins[finding.at()], header.says);
}
std::string GroundRules::says(GroundCheck check) const {
  const Origin& origin = checks.origins.at(check.at());
  const Header& header = rules->checks.at(origin.declaration).header;
  return filled(rules->unit, header, origin, header.says);
}
std::string GroundRules::says(GroundRepair repair) const {
  const Origin& origin = repairs.origins.at(repair.at());
  const Header& header = rules->repairs.at(origin.declaration).header;
  return filled(rules->unit, header, origin, header.says);
}
bool GroundRules::resets_reading(const GroundReset& reset, GroundReading reading) const {
  return !reset.only || (scope_of(reading) == reset.only->first &&
                         readings.origins.at(reading.at()).member == reset.only->second);
}
std::string GroundRules::says(GroundEvent event) const {
  const Origin& origin = events.origins.at(event.at());
  const Header& header = rules->events.at(origin.declaration).header;
  return header.says.empty() ? name_of(event) : filled(rules->unit, header, origin, header.says);
}
std::string GroundRules::asks(GroundFinding finding) const {
  const auto& declared = declaration(finding);
  if (!declared.header.in_use(findings.origins[finding.at()].member)) return "";
  return filled(rules->unit, declared.header, findings.origins[finding.at()], declared.asks);
}

std::string GroundRules::asks(GroundEvent event) const {
  const Origin& origin = events.origins.at(event.at());
  const rulebase::Event& declared = rules->events.at(origin.declaration);
  return declared.asks.empty() ? says(event) + "?"
                               : filled(rules->unit, declared.header, origin, declared.asks);
}
std::string GroundRules::asks(GroundDetail detail) const {
  const Origin& origin = details.origins.at(detail.at());
  const rulebase::Detail& declared = rules->details.at(origin.declaration);
  return filled(rules->unit, declared.header, origin, declared.asks);
}

std::optional<GroundCause> GroundRules::find_cause(std::string_view name) const {
  const auto index = find(rules->unit, causes, rules->causes, name);
  return index ? std::optional(GroundCause{*index}) : std::nullopt;
}
std::optional<GroundFinding> GroundRules::find_finding(std::string_view name) const {
  const auto index = find(rules->unit, findings, rules->findings, name);
  return index ? std::optional(GroundFinding{*index}) : std::nullopt;
}

std::optional<ScopeId> GroundRules::scope_of(GroundFinding finding) const {
  return declaration(finding).header.scope;
}
std::optional<ScopeId> GroundRules::scope_of(GroundReading reading) const {
  return rules->readings.at(readings.origins.at(reading.at()).declaration).header.scope;
}

}  // namespace slipcase::grounding
