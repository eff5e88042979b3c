// Numbers for every member of every declaration, and what the profile says about them.
#include <fmt/core.h>

#include "grounding/messages.h"
#include "grounding/unroll.h"

namespace slipcase::grounding {

namespace {

template <class Declaration>
Layout laid_out(const std::vector<Declaration>& declarations,
                const rulebase::UnitVocabulary& unit) {
  Layout layout;
  layout.first.reserve(declarations.size());
  for (std::uint32_t index = 0; index < declarations.size(); ++index) {
    layout.first.push_back(static_cast<std::uint32_t>(layout.origins.size()));
    const auto scope = declarations[index].header.scope;
    if (!scope) {
      layout.origins.push_back({index, std::nullopt});
      continue;
    }
    const auto count = static_cast<std::uint32_t>(unit.member_count(scope));
    for (std::uint32_t member = 0; member < count; ++member) {
      layout.origins.push_back({index, MemberId{member}});
    }
  }
  return layout;
}

std::string scope_text(const rulebase::UnitVocabulary& unit, std::optional<ScopeId> scope) {
  return scope ? fmt::format("`of {}`", unit.scope(*scope).name) : std::string("without `of`");
}

bool agrees(const GroundRules& ground, const rulebase::Reading& reading,
            const profile::ReadingProfile& known, Diagnostics& diagnostics) {
  const auto& unit = ground.rules->unit;
  if (known.scope != reading.header.scope) {
    diagnostics.add(reading_differs, reading.header.place,
                    fmt::format("the reading `{}` stands here {}, in the profile of `{}` {}",
                                reading.header.name, scope_text(unit, reading.header.scope),
                                ground.profile->name, scope_text(unit, known.scope)));
    return false;
  }
  if (known.dimension != reading.dimension) {
    diagnostics.add(reading_differs, reading.header.place,
                    fmt::format("the reading `{}` is a {} here, a {} in the profile of `{}`",
                                reading.header.name, units::describe(reading.dimension),
                                units::describe(known.dimension), ground.profile->name));
    return false;
  }
  return true;
}

void take_bounds(GroundRules& ground, Diagnostics& diagnostics) {
  ground.bounds.resize(ground.readings.size());
  for (std::size_t index = 0; index < ground.rules->readings.size(); ++index) {
    const auto& reading = ground.rules->readings[index];
    const auto* known = ground.profile->find_reading(reading.header.name);
    if (known == nullptr || !agrees(ground, reading, *known, diagnostics)) continue;
    for (std::size_t member = 0; member < known->bounds.size(); ++member) {
      ground.bounds.at(ground.readings.first[index] + member) = known->bounds[member];
    }
  }
}

void take_resets(GroundRules& ground, Diagnostics& diagnostics) {
  for (const auto& reset : ground.profile->resets) {
    const auto entity = ground.rules->find(reset.event);
    // An event that no rule knows cannot stand on a card either.
    if (!entity) continue;
    std::optional<rulebase::EventId> event;
    if (const auto* id = std::get_if<rulebase::EventId>(&*entity)) event = *id;
    if (const auto* id = std::get_if<rulebase::CheckId>(&*entity)) {
      event = ground.rules->checks.at(id->at()).event;
    }
    if (const auto* id = std::get_if<rulebase::RepairId>(&*entity)) {
      event = ground.rules->repairs.at(id->at()).event;
    }
    if (!event) {
      diagnostics.add(
          reset_differs, std::nullopt,
          fmt::format("the profile of `{}` says that `{}` resets readings, but the rules "
                      "declare it as something that does not happen; declare an `event`",
                      ground.profile->name, reset.event));
      continue;
    }
    const auto scope = ground.rules->events.at(event->at()).header.scope;
    const auto count = static_cast<std::uint32_t>(ground.rules->unit.member_count(scope));
    for (std::uint32_t member = 0; member < count; ++member) {
      GroundReset made{
          GroundEvent{ground.events.first[event->at()] + member}, {}, reset.clears_only};
      if (scope) made.only = {*scope, MemberId{member}};
      ground.resets.push_back(made);
    }
  }
}

/// What an event of one declaration counts as in another: the same member, all of them, or the one.
std::vector<std::uint32_t> matching(const GroundRules& ground, const Origin& from,
                                    rulebase::EventId to) {
  const auto from_scope = ground.rules->events.at(from.declaration).header.scope;
  const auto to_scope = ground.rules->events.at(to.at()).header.scope;
  if (!to_scope) return {ground.events.at(to.index, std::nullopt)};
  if (from_scope == to_scope) return {ground.events.at(to.index, from.member)};
  std::vector<std::uint32_t> all;
  if (from_scope) return all;
  const auto count = static_cast<std::uint32_t>(ground.rules->unit.member_count(to_scope));
  for (std::uint32_t i = 0; i < count; ++i) all.push_back(ground.events.first[to.at()] + i);
  return all;
}

void take_counts_as(GroundRules& ground) {
  ground.counts_as.resize(ground.events.size());
  for (std::uint32_t index = 0; index < ground.events.size(); ++index) {
    const Origin& origin = ground.events.origins[index];
    ground.counts_as[index].push_back(GroundEvent{index});
    for (const rulebase::EventId other : ground.rules->events.at(origin.declaration).counts_as) {
      for (const std::uint32_t match : matching(ground, origin, other)) {
        ground.counts_as[index].push_back(GroundEvent{match});
      }
    }
  }
}

}  // namespace

void number(GroundRules& ground) {
  const auto& rules = *ground.rules;
  ground.details = laid_out(rules.details, rules.unit);
  ground.readings = laid_out(rules.readings, rules.unit);
  ground.events = laid_out(rules.events, rules.unit);
  ground.findings = laid_out(rules.findings, rules.unit);
  ground.insides = laid_out(rules.insides, rules.unit);
  ground.causes = laid_out(rules.causes, rules.unit);
  ground.checks = laid_out(rules.checks, rules.unit);
  ground.repairs = laid_out(rules.repairs, rules.unit);
}

void take_from_profile(GroundRules& ground, Diagnostics& diagnostics) {
  take_bounds(ground, diagnostics);
  take_resets(ground, diagnostics);
  take_counts_as(ground);
}

}  // namespace slipcase::grounding
