#include "evaluation/card_names.h"

#include <algorithm>

#include <fmt/core.h>

#include "evaluation/messages.h"
#include "support/near_names.h"
#include "support/suggest.h"

namespace slipcase::evaluation {

using facts::Scalar;
using rulebase::MemberId;
using rulebase::ScopeId;

namespace {

std::string_view word_for(CardKind kind) {
  switch (kind) {
    case CardKind::finding:
      return "finding";
    case CardKind::detail:
      return "detail";
    case CardKind::reading:
      return "reading";
    case CardKind::event:
      return "event";
    case CardKind::check:
      return "check";
    case CardKind::repair:
      return "repair";
    case CardKind::cause:
      break;
  }
  return "cause";
}

std::string_view word_for(const rulebase::Entity& entity) {
  // In the order of the alternatives of rulebase::Entity.
  constexpr std::string_view words[] = {"a detail",  "a reading", "an event",   "a finding",
                                        "an inside", "a cause",   "a distrust", "a check",
                                        "an access", "a repair",  "a caution",  "a group"};
  return words[entity.index()];
}

/// Where such a thing stands on a card; "" for what is never written on one.
std::string_view key_for(const rulebase::Entity& entity) {
  // In the order of the alternatives of rulebase::Entity.
  constexpr std::string_view keys[] = {"details:", "readings:", "events:", "answers:", "", "",
                                       "",         "checks:",   "",        "repairs:", "", ""};
  return keys[entity.index()];
}

/// Checks and repairs are events too; these are nothing else.
std::vector<std::string> event_names(const rulebase::Rulebase& rules) {
  std::vector<std::string> names;
  for (const auto& entry : rules.names) {
    if (std::holds_alternative<rulebase::EventId>(entry.entity)) names.push_back(entry.name);
  }
  return names;
}

/// ", such as `a` or `b`": the first two names.
std::string such_as(std::vector<std::string> names) {
  names.resize(std::min<std::size_t>(names.size(), 2));
  return names.empty() ? "" : ", such as " + quoted_list(names);
}

template <class Declaration, class IdType>
Declared of(const std::vector<Declaration>& list, const grounding::Layout& layout, IdType id) {
  return {id.index, &list.at(id.at()).header, &layout};
}

}  // namespace

std::optional<Declared> CardNames::find(CardKind kind, std::string_view name) const {
  const auto& rules = *rules_.rules;
  const auto entity = rules.find(name);
  if (!entity) return std::nullopt;
  const auto* check = std::get_if<rulebase::CheckId>(&*entity);
  const auto* repair = std::get_if<rulebase::RepairId>(&*entity);
  switch (kind) {
    case CardKind::finding: {
      if (const auto* id = std::get_if<rulebase::FindingId>(&*entity)) {
        return of(rules.findings, rules_.findings, *id);
      }
      // A check that flags is itself a finding.
      if (check == nullptr || !rules.checks[check->at()].finding) return std::nullopt;
      return of(rules.findings, rules_.findings, *rules.checks[check->at()].finding);
    }
    case CardKind::event: {
      const auto* id = std::get_if<rulebase::EventId>(&*entity);
      if (id != nullptr) return of(rules.events, rules_.events, *id);
      if (check != nullptr) return of(rules.events, rules_.events, rules.checks[check->at()].event);
      if (repair == nullptr) return std::nullopt;
      return of(rules.events, rules_.events, rules.repairs[repair->at()].event);
    }
    case CardKind::detail: {
      const auto* id = std::get_if<rulebase::DetailId>(&*entity);
      return id ? std::optional(of(rules.details, rules_.details, *id)) : std::nullopt;
    }
    case CardKind::reading: {
      const auto* id = std::get_if<rulebase::ReadingId>(&*entity);
      return id ? std::optional(of(rules.readings, rules_.readings, *id)) : std::nullopt;
    }
    case CardKind::check:
      return check ? std::optional(of(rules.checks, rules_.checks, *check)) : std::nullopt;
    case CardKind::repair:
      return repair ? std::optional(of(rules.repairs, rules_.repairs, *repair)) : std::nullopt;
    case CardKind::cause: {
      const auto* id = std::get_if<rulebase::CauseId>(&*entity);
      return id ? std::optional(of(rules.causes, rules_.causes, *id)) : std::nullopt;
    }
  }
  return std::nullopt;
}

std::vector<std::string> CardNames::names_of(CardKind kind) const {
  std::vector<std::string> names;
  for (const auto& entry : rules_.rules->names) {
    if (find(kind, entry.name)) names.push_back(entry.name);
  }
  return names;
}

std::optional<Declared> CardNames::declared(CardKind kind, const Scalar& name) {
  auto found = name.faulty ? std::nullopt : find(kind, name.text);
  if (found || name.faulty) return found;
  if (const auto entity = rules_.rules->find(name.text)) {
    refuse_kind(kind, name, *entity);
  } else if (!refuse_removed(name)) {
    diagnostics_.add(unknown_name, name.place,
                     fmt::format("the rules know no {} `{}`{}", word_for(kind), name.text,
                                 hint_for(kind, name.text)));
  }
  return std::nullopt;
}

/// What is surely meant may be of another kind, and then belongs elsewhere on the card.
std::string CardNames::hint_for(CardKind kind, std::string_view name) const {
  const auto names = names_of(kind);
  if (!near_names(name, names).sure) {
    std::vector<std::string> elsewhere;
    for (const auto& entry : rules_.rules->names) {
      if (!key_for(entry.entity).empty()) elsewhere.push_back(entry.name);
    }
    const NearNames near = near_names(name, elsewhere);
    if (near.sure) {
      const auto entity = *rules_.rules->find(near.names.front());
      return fmt::format(", did you mean `{}`? That is {}: write it on the card under `{}`",
                         near.names.front(), word_for(entity), key_for(entity));
    }
  }
  return name_hint(name, names);
}

void CardNames::refuse_kind(CardKind kind, const Scalar& name, const rulebase::Entity& entity) {
  const std::string_view where = key_for(entity);
  const bool cause = std::holds_alternative<rulebase::CauseId>(entity);
  const std::string advice = !where.empty()
                                 ? fmt::format("; write it on the card under `{}`", where)
                             : cause ? "; causes are what the tool looks for, only `outcome:` "
                                       "names them"
                                     : "";
  const std::string expected =
      kind == CardKind::event ? "an event is expected here (or a check or repair that was done)" +
                                    such_as(event_names(*rules_.rules))
                              : fmt::format("a {} is expected here", word_for(kind));
  diagnostics_.add(wrong_kind, name.place,
                   fmt::format("`{}` is {}, {}{}", name.text, word_for(entity), expected, advice));
}

/// What a shop's own layer took out of use is not unknown.
bool CardNames::refuse_removed(const Scalar& name) {
  for (const auto& change : rules_.rules->changes) {
    if (change.kind != rulebase::LayerChange::Kind::remove || change.name != name.text) continue;
    diagnostics_
        .add(unknown_name, name.place,
             fmt::format("`{}` is out of use in your rules: take it off the card, or its `remove` "
                         "out of the rules",
                         name.text))
        .notes.push_back({change.place, "it was removed here"});
    return true;
  }
  return false;
}

std::optional<MemberId> CardNames::member(ScopeId scope, const Scalar& name) {
  if (name.faulty) return std::nullopt;
  const auto& unit = rules_.rules->unit;
  if (const auto found = unit.find_member(scope, name.text)) return found;
  const auto& declared = unit.scope(scope);
  const std::string meant = did_you_mean(name.text, declared.members);
  diagnostics_.add(
      unknown_member, name.place,
      fmt::format("`{}` has no {} `{}`{}", rules_.profile->name, declared.name, name.text,
                  meant.empty() ? "; it has " + quoted_list(declared.members) : meant));
  return std::nullopt;
}

void CardNames::ask_which(const Declared& declared, const Place& place) {
  const auto& scope = rules_.rules->unit.scope(*declared.header->scope);
  const std::string example = scope.members.empty() ? "..." : scope.members.front();
  diagnostics_.add(which_member, place,
                   fmt::format("`{0}` is said of each {1} by itself: name it, as in `{0} of {2}`",
                               declared.header->name, scope.name, example));
}

void CardNames::refuse_member(const Declared& declared, const Place& place) {
  diagnostics_.add(no_member, place,
                   fmt::format("`{0}` is said of the whole unit, not of a part: write `{0}` alone",
                               declared.header->name));
}

std::optional<std::uint32_t> CardNames::ground(CardKind kind,
                                               const facts::CardReference& reference) {
  const auto found = declared(kind, reference.name);
  if (!found) return std::nullopt;
  if (!found->header->scope) {
    if (!reference.member) return found->ground(std::nullopt);
    refuse_member(*found, reference.member->place);
    return std::nullopt;
  }
  if (!reference.member) {
    ask_which(*found, reference.place);
    return std::nullopt;
  }
  const auto named = member(*found->header->scope, *reference.member);
  return named ? std::optional(found->ground(named)) : std::nullopt;
}

std::vector<std::uint32_t> CardNames::all_ground(CardKind kind,
                                                 const facts::CardReference& reference) {
  std::vector<std::uint32_t> all;
  const auto found = find(kind, reference.name.text);
  if (reference.member || !found || !found->header->scope) {
    if (const auto one = ground(kind, reference)) all.push_back(*one);
    return all;
  }
  const auto count = rules_.rules->unit.member_count(found->header->scope);
  for (std::uint32_t i = 0; i < count; ++i) all.push_back(found->ground(MemberId{i}));
  return all;
}

void CardNames::each(const Declared& declared, const facts::Entry& entry, const Take& take) {
  const bool of_members = declared.header->scope.has_value();
  if (const auto* values = std::get_if<Values>(&entry.value)) {
    if (!of_members) refuse_member(declared, entry.name.place);
    each_member(declared, *values, take);
    return;
  }
  const Scalar& value = std::get<Scalar>(entry.value);
  if (value.faulty) return;
  if (of_members) ask_which(declared, entry.name.place);
  take(of_members ? std::nullopt : std::optional(declared.ground(std::nullopt)), value, true);
}

void CardNames::each_member(const Declared& declared, const Values& values, const Take& take) {
  const auto scope = declared.header->scope;
  std::vector<bool> named(rules_.rules->unit.member_count(scope));
  bool all_found = scope.has_value();
  const Scalar* rest = nullptr;
  for (const auto& [name, value] : values) {
    if (name.text == "others") {
      rest = &value;
      continue;
    }
    const auto found = scope ? member(*scope, name) : std::nullopt;
    if (found) named[found->at()] = true;
    all_found = all_found && found;
    if (!value.faulty)
      take(found ? std::optional(declared.ground(found)) : std::nullopt, value, true);
  }
  if (rest == nullptr || rest->faulty) return;
  // It is not meant for a member whose name was mistyped.
  if (all_found) {
    others(declared, named, *rest, take);
  } else {
    take(std::nullopt, *rest, false);
  }
}

void CardNames::others(const Declared& declared, const std::vector<bool>& named,
                       const Scalar& value, const Take& take) {
  const std::size_t errors_before = diagnostics_.error_count();
  for (std::uint32_t i = 0; i < named.size(); ++i) {
    if (!named[i]) take(declared.ground(MemberId{i}), value, false);
    // What is wrong with it for one member is not said again for each.
    if (diagnostics_.error_count() > errors_before) return;
  }
}

}  // namespace slipcase::evaluation
