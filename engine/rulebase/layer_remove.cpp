#include "rulebase/layer_remove.h"

#include <algorithm>

#include <fmt/core.h>

#include "rulebase/clauses.h"
#include "rulebase/messages.h"

namespace slipcase::rulebase {

namespace {

using language::Clause;
using language::DeclarationKind;

std::string with_member(const UnitVocabulary& unit, const MergedDeclaration& base,
                        const OnlyFor& member) {
  const std::string& name = base.declaration->name.text;
  if (!member || !base.scope) return name;
  return name + " of " + unit.scope(*base.scope).members.at(member->at());
}

bool has_member(const std::vector<MemberId>& list, MemberId member) {
  return std::find(list.begin(), list.end(), member) != list.end();
}

/// What can be there for one member and not for another.
bool can_lack_a_member(DeclarationKind kind) {
  return kind == DeclarationKind::cause || kind == DeclarationKind::inside ||
         kind == DeclarationKind::finding;
}

}  // namespace

void note_lines_there(Diagnostic& diagnostic, const UnitVocabulary& unit,
                      const MergedDeclaration& base, const Clause& wanted) {
  constexpr std::size_t most_notes = 8;
  const auto same_word = [&](const MergedClause& line) {
    return line.clause->body.index() == wanted.body.index();
  };
  const bool any = std::any_of(base.clauses.begin(), base.clauses.end(), same_word);
  for (const MergedClause& line : base.clauses) {
    if (diagnostic.notes.size() == most_notes) return;
    if (any && !same_word(line)) continue;
    diagnostic.notes.push_back(
        {line.clause->place, fmt::format("`{}` has `{}`", with_member(unit, base, line.only_for),
                                         first_line(*line.clause))});
  }
}

std::string LineRemover::name_of(const MergedDeclaration& base, const OnlyFor& member) const {
  return with_member(unit_, base, member);
}

void LineRemover::warn_twice(const Place& place, const std::string& what, const Place& before) {
  auto& diagnostic = diagnostics_.add(
      removed_twice, place, fmt::format("`{}` is out of use already; leave one out", what));
  diagnostic.notes.push_back({before, "it was removed here"});
}

void LineRemover::remove_whole(MergedDeclaration& base, const language::Declaration& layer,
                               const OnlyFor& member) {
  const Place& place = layer.name.place;
  if (base.removed) return warn_twice(place, name_of(base, member), *base.removed);
  if (!member) {
    base.removed = place;
    return;
  }
  for (const auto& [other, before] : base.removed_for) {
    if (other == *member) return warn_twice(place, name_of(base, member), before);
  }
  if (!can_lack_a_member(base.declaration->kind)) {
    diagnostics_.add(
        not_for_one_member, layer.of->place,
        fmt::format("`{}` is {}, which is there for every {} or for none; for one {} alone a "
                    "cause, an inside or a finding can be out of use",
                    base.declaration->name.text, with_article(base.declaration->kind),
                    unit_.scope(*base.scope).name, unit_.scope(*base.scope).name));
    return;
  }
  base.removed_for.emplace_back(*member, place);
}

void LineRemover::remove_line(MergedDeclaration& base, const Clause& named, const OnlyFor& member,
                              LayerChange& change) {
  if (is_list(named)) return remove_entries(base, named, change);
  auto line = base.clauses.end();
  for (auto it = base.clauses.begin(); it != base.clauses.end(); ++it) {
    if (!same_line(*it->clause, named)) continue;
    if (it->only_for && it->only_for != member) continue;
    const bool lacks_it = member && !it->only_for && has_member(it->removed_for, *member);
    const bool replaced = member && !it->only_for && has_member(it->not_for, *member);
    if (!lacks_it && !replaced) line = it;  // a member's own line stands behind
  }
  if (line == base.clauses.end()) {
    return report_nothing(base, named, first_line(named), member);
  }
  const bool own = line->only_for.has_value();
  if (!own && is_needed(base, named, member)) return;
  change.replaced.push_back({line->clause->place, named.place});
  gone_.push_back({&base, first_line(named), member, named.place});
  if (member && !own) {
    line->removed_for.push_back(*member);
    return;
  }
  base.clauses.erase(line);
  if (!member) return;
  // What a member's own line was revised in for does not come back.
  for (MergedClause& other : base.clauses) {
    if (same_line(*other.clause, named) && has_member(other.not_for, *member))
      other.removed_for.push_back(*member);
  }
}

/// A cause without `found`, an inside without `otherwise` says nothing at all.
bool LineRemover::is_needed(const MergedDeclaration& base, const Clause& named,
                            const OnlyFor& member) {
  const bool inside = base.declaration->kind == DeclarationKind::inside;
  const bool needed = std::holds_alternative<language::Found>(named.body) ||
                      (inside && std::holds_alternative<language::Otherwise>(named.body));
  if (!member || !needed) return false;
  const std::string name = name_of(base, member);
  diagnostics_.add(not_for_one_member, named.place,
                   fmt::format("`{0}` must have `{1}`; to change it write `revise {0}` with "
                               "another count, to take `{0}` out of use `remove {0}` without lines",
                               name, named.first_word.text));
  return true;
}

void LineRemover::remove_entries(MergedDeclaration& base, const Clause& named,
                                 LayerChange& change) {
  for (const std::string& entry : entries_of(named)) {
    const std::string line = named.first_word.text + " " + entry;
    if (remove_entry(base, named, entry, change)) {
      gone_.push_back({&base, line, {}, named.place});
    } else {
      report_nothing(base, named, line, {});
    }
  }
}

bool LineRemover::remove_entry(MergedDeclaration& base, const Clause& named,
                               const std::string& entry, LayerChange& change) {
  for (auto it = base.clauses.begin(); it != base.clauses.end(); ++it) {
    if (it->clause->body.index() != named.body.index()) continue;
    const std::vector<std::string> entries = entries_of(*it->clause);
    if (std::find(entries.begin(), entries.end(), entry) == entries.end()) continue;
    change.replaced.push_back({it->clause->place, named.place});
    shortened_.push_back(*it->clause);
    take_out_entries(shortened_.back(), {entry});
    it->clause = &shortened_.back();
    if (entries_of(*it->clause).empty()) base.clauses.erase(it);
    return true;
  }
  return false;
}

void LineRemover::report_nothing(const MergedDeclaration& base, const Clause& named,
                                 const std::string& line, const OnlyFor& member) {
  for (const Gone& gone : gone_) {
    const bool same =
        gone.base == &base && gone.line == line && (!gone.member || gone.member == member);
    if (same) return warn_twice(named.place, line, gone.place);
  }
  if (base.broken) return;
  auto& diagnostic = diagnostics_.add(
      remove_finds_nothing, named.place,
      fmt::format("`{}` has no line `{}` to take out", name_of(base, member), line));
  note_lines_there(diagnostic, unit_, base, named);
}

}  // namespace slipcase::rulebase
