#include "profile/vocabulary_builder.h"

#include <algorithm>

#include <fmt/core.h>

#include "language/parse.h"
#include "profile/messages.h"
#include "profile/wording.h"

namespace slipcase::profile {

namespace {

std::string_view describe(WordKind kind) {
  switch (kind) {
    case WordKind::scope:
      return "a scope";
    case WordKind::mark:
      return "a mark";
    case WordKind::relation:
      return "a relation";
    case WordKind::code_family:
      return "a group of codes";
    case WordKind::reading:
      return "a reading";
    case WordKind::event:
      return "an event";
  }
  return "";
}

bool is_letter_or_digit(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_';
}

/// One token of the language: letters and digits, `-` and `.` only inside.
bool is_member_name(std::string_view name) {
  return !name.empty() && is_letter_or_digit(name.front()) && is_letter_or_digit(name.back()) &&
         std::all_of(name.begin(), name.end(),
                     [](char c) { return is_letter_or_digit(c) || c == '-' || c == '.'; });
}

Holds transposed(const Holds& holds, std::size_t objects) {
  Holds turned(objects, std::vector<bool>(holds.size(), false));
  for (std::size_t subject = 0; subject < holds.size(); ++subject) {
    for (std::size_t object = 0; object < objects; ++object) {
      turned[object][subject] = holds[subject][object];
    }
  }
  return turned;
}

Holds negated(Holds holds) {
  for (std::vector<bool>& row : holds) row.flip();
  return holds;
}

Holds both_ways(Holds holds) {
  for (std::size_t one = 0; one < holds.size(); ++one) {
    for (std::size_t other = 0; other < holds.size(); ++other) {
      if (holds[one][other]) holds[other][one] = true;
    }
  }
  return holds;
}

}  // namespace

Scalar own_word(std::string_view word) { return {std::string(word), Place{}}; }

bool VocabularyBuilder::take(const Scalar& word, WordKind kind) {
  if (!language::is_name(word.text)) {
    diagnostics_.add(name_shape, word.place,
                     fmt::format("`{}` cannot be the name of {}: names are small letters, digits "
                                 "and `_`, a letter first",
                                 word.text, describe(kind)));
    return false;
  }
  if (language::is_reserved(word.text)) {
    diagnostics_.add(reserved_name, word.place,
                     fmt::format("`{}` is a word of the rule language and cannot be the name of "
                                 "{}; choose another",
                                 word.text, describe(kind)));
    return false;
  }
  const auto [taken, is_new] = words_.try_emplace(word.text, kind, word.place);
  if (is_new || taken->second.first == kind) return true;
  Diagnostic& clash =
      diagnostics_.add(name_clash, word.place,
                       fmt::format("`{}` is the name of {} already and cannot be that of {} too",
                                   word.text, describe(taken->second.first), describe(kind)));
  if (taken->second.second != Place{}) {
    clash.notes.push_back({taken->second.second, "it is used here"});
  }
  return false;
}

ScopeId VocabularyBuilder::add_scope(const Scalar& name, const std::optional<Scalar>& plural,
                                     const std::vector<Scalar>& members) {
  const Scalar many = plural.value_or(Scalar{name.text + "s", name.place});
  for (const Scalar* word : {&name, &many}) {
    if (vocabulary_.find_scope(word->text)) {
      diagnostics_.add(named_twice, word->place,
                       fmt::format("there is a scope `{}` already", word->text));
    } else {
      take(*word, WordKind::scope);
    }
  }
  rulebase::Scope scope{name.text, many.text, {}};
  for (const Scalar& member : members) {
    if (!is_member_name(member.text)) {
      diagnostics_.add(member_shape, member.place,
                       fmt::format("`{}` cannot be the name of one {}: letters, digits and `_`, "
                                   "with `-` and `.` only inside",
                                   member.text, name.text));
    } else if (std::find(scope.members.begin(), scope.members.end(), member.text) !=
               scope.members.end()) {
      diagnostics_.add(named_twice, member.place,
                       fmt::format("{} `{}` is listed twice", name.text, member.text));
      continue;
    }
    scope.members.push_back(member.text);
  }
  vocabulary_.scopes.push_back(std::move(scope));
  members_.push_back(members);
  return {static_cast<std::uint32_t>(vocabulary_.scopes.size() - 1)};
}

void VocabularyBuilder::check_members() {
  for (const std::vector<Scalar>& scope : members_) {
    for (const Scalar& member : scope) {
      if (vocabulary_.find_scope(member.text)) {
        diagnostics_.add(
            name_clash, member.place,
            fmt::format("`{}` is the name of a scope and cannot be one part too", member.text));
      } else if (language::is_reserved(member.text) || member.text == "others") {
        diagnostics_.add(reserved_name, member.place,
                         fmt::format("`{}` is a word of the rule language or of job cards and "
                                     "cannot be the name of a part; choose another",
                                     member.text));
      }
    }
  }
}

void VocabularyBuilder::add_mark(ScopeId scope, const Scalar& name, std::vector<bool> on) {
  if (vocabulary_.find_mark(scope, name.text)) {
    diagnostics_.add(named_twice, name.place,
                     fmt::format("the mark `{}` of {} is there already", name.text,
                                 vocabulary_.scope(scope).name));
    return;
  }
  if (!take(name, WordKind::mark)) return;
  vocabulary_.marks.push_back({name.text, scope, std::move(on)});
}

void VocabularyBuilder::add_relation(ScopeId subject, ScopeId object, const RelationWords& words,
                                     const Holds& holds) {
  const std::size_t objects = vocabulary_.scope(object).members.size();
  // `regulator beside regulator`, inverse `beside`: one relation, the same from either end.
  const bool same_both_ways = subject == object && words.word.text == words.inverse.text;
  const Holds pairs = same_both_ways ? both_ways(holds) : holds;
  add_one_way(subject, object, words.word, pairs);
  if (!same_both_ways) add_one_way(object, subject, words.inverse, transposed(pairs, objects));
  if (!words.negative) return;
  const auto& [without, inverse_without] = *words.negative;
  add_one_way(subject, object, without, negated(pairs));
  if (!same_both_ways || without.text != inverse_without.text) {
    add_one_way(object, subject, inverse_without, negated(transposed(pairs, objects)));
  }
}

void VocabularyBuilder::add_one_way(ScopeId subject, ScopeId object, const Scalar& word,
                                    Holds holds) {
  if (vocabulary_.find_relation(subject, word.text, object)) {
    diagnostics_.add(named_twice, word.place,
                     fmt::format("`{} {} {}` is there already", vocabulary_.scope(subject).name,
                                 word.text, vocabulary_.scope(object).name));
    return;
  }
  if (!take(word, WordKind::relation)) return;
  vocabulary_.relations.push_back({word.text, subject, object, std::move(holds)});
}

void VocabularyBuilder::add_code_family(const Scalar& name, std::optional<ScopeId> scope) {
  take(name, WordKind::code_family);
  vocabulary_.code_families.push_back({name.text, scope});
}

std::optional<ScopeId> VocabularyBuilder::scope(const Scalar& name) {
  const std::optional<ScopeId> found = vocabulary_.find_scope(name.text);
  if (found && vocabulary_.scope(*found).name == name.text) return found;
  std::vector<std::string> names;
  for (const rulebase::Scope& scope : vocabulary_.scopes) names.push_back(scope.name);
  diagnostics_.add(
      unknown_scope, name.place,
      fmt::format("there is no scope `{}`{}", name.text, near_or_all(name.text, names)));
  return std::nullopt;
}

std::optional<MemberId> VocabularyBuilder::member(ScopeId scope, const Scalar& name) {
  const std::optional<MemberId> found = vocabulary_.find_member(scope, name.text);
  if (found) return found;
  if (std::find(incomplete_.begin(), incomplete_.end(), scope) != incomplete_.end()) return found;
  const rulebase::Scope& in = vocabulary_.scope(scope);
  diagnostics_.add(
      unknown_member, name.place,
      fmt::format("there is no {} `{}`{}", in.name, name.text, near_or_all(name.text, in.members)));
  return std::nullopt;
}

std::vector<MemberId> VocabularyBuilder::members(ScopeId scope, const std::vector<Scalar>& names) {
  std::vector<MemberId> found;
  for (const Scalar& name : names) {
    const std::optional<MemberId> one = member(scope, name);
    if (!one) continue;
    if (std::find(found.begin(), found.end(), *one) != found.end()) {
      diagnostics_.add(named_twice, name.place, fmt::format("`{}` is listed twice", name.text));
      continue;
    }
    found.push_back(*one);
  }
  return found;
}

}  // namespace slipcase::profile
