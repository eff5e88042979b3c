#include "rulebase/targets.h"

#include <cmath>

#include <fmt/core.h>

#include "rulebase/messages.h"
#include "rulebase/scopes.h"
#include "support/suggest.h"

namespace slipcase::rulebase {

namespace {

std::optional<Term> report_unbound(Context& context, const language::Word& word, ScopeId scope,
                                   std::string_view thing) {
  const std::string& name = context.scope_name(scope);
  context.error(
      which_member, word.place,
      fmt::format("which {0}? the declaration is not `of {0}`; name one (`{1} of {2}`) or "
                  "choose several (`each {0}` where a line leads, `any {0}` or `every {0}` "
                  "in a condition)",
                  name, thing, context.unit.scope(scope).members.front()));
  return std::nullopt;
}

std::optional<MarkId> resolve_mark(Context& context, const language::Word& word, ScopeId scope) {
  const auto found = context.unit.find_mark(scope, word.text);
  if (found) return found;
  std::vector<std::string> names;
  for (const Mark& mark : context.unit.marks) {
    if (mark.scope == scope) names.push_back(mark.name);
  }
  std::string text =
      fmt::format("`{}` is no mark that {} can have{}", word.text,
                  with_article(context.scope_name(scope)), context.did_you_mean(word.text, names));
  if (!names.empty()) text += fmt::format("; there is {}", quoted_list(names));
  context.error(unknown_mark, word.place, text);
  return std::nullopt;
}

void report_relation(Context& context, const language::Word& word, ScopeId subject) {
  std::vector<std::string> words;
  for (const Relation& relation : context.unit.relations) {
    if (relation.subject == subject) {
      words.push_back(relation.word + " " + context.scope_name(relation.object));
    }
  }
  std::vector<std::string> first_words;
  for (const Relation& relation : context.unit.relations) {
    if (relation.subject == subject) first_words.push_back(relation.word);
  }
  std::string text = fmt::format("`{}` is no word that joins {} to something{}", word.text,
                                 with_article(context.scope_name(subject)),
                                 context.did_you_mean(word.text, first_words));
  if (!words.empty()) text += fmt::format("; you can write {}", quoted_list(words));
  context.error(unknown_relation, word.place, text);
}

// The relation and its other end. Which scope the other end has follows from the word: a scope that
// is bound here, else a member of a scope that the relation leads to.
std::optional<Selection::RelationTest> resolve_relation(Context& context,
                                                        const language::RelationTest& test,
                                                        ScopeId subject,
                                                        const Variables& variables) {
  std::optional<ScopeId> object;
  bool known_word = false;
  for (const Relation& relation : context.unit.relations) {
    if (relation.subject != subject || relation.word != test.relation.text) continue;
    known_word = true;
    const bool names_scope = context.unit.find_scope(test.term.text) == relation.object;
    if (names_scope || context.unit.find_member(relation.object, test.term.text)) {
      object = relation.object;
      break;
    }
    if (!object) object = relation.object;
  }
  if (!known_word) {
    report_relation(context, test.relation, subject);
    return std::nullopt;
  }
  const auto term = resolve_term(context, test.term, *object, test.relation.text, variables);
  if (!term) return std::nullopt;
  const auto relation = context.unit.find_relation(subject, test.relation.text, *object);
  return Selection::RelationTest{*relation, test.negated, *term};
}

// Scope, `other`, mark and relation; not the quantifier.
std::optional<Selection> resolve_filter(Context& context, const language::Selection& selection,
                                        const Variables& variables) {
  const auto scope = find_scope(context.unit, selection.scope, context.diagnostics);
  if (!scope) return std::nullopt;
  Selection result;
  result.place = selection.place;
  result.scope = *scope;
  bool good = true;
  if (selection.other) {
    const auto variable = variables.find(*scope);
    if (variable) {
      result.other_than = Term(*variable);
    } else {
      const std::string& name = context.scope_name(*scope);
      context.error(
          which_member, selection.scope.place,
          fmt::format("other than which {0}? the declaration is not `of {0}`; leave `other` "
                      "out",
                      name));
      good = false;
    }
  }
  if (selection.mark) {
    const auto mark = resolve_mark(context, selection.mark->mark, *scope);
    if (mark) result.mark = Selection::MarkTest{*mark, selection.mark->negated};
    good = good && mark.has_value();
  }
  if (selection.relation) {
    result.relation = resolve_relation(context, *selection.relation, *scope, variables);
    good = good && result.relation.has_value();
  }
  if (!good) return std::nullopt;
  return result;
}

bool check_amount(Context& context, const language::Selection& selection, ScopeId scope) {
  using language::Quantifier;
  if (!selection.amount) return true;
  const double amount = selection.amount->value;
  const Place& place = selection.amount->place;
  if (selection.quantifier == Quantifier::at_least_share) {
    if (amount > 0.0 && amount <= 100.0 && std::floor(amount) == amount) return true;
    context.error(amount_out_of_range, place, "a share is a whole number of percent, 1 to 100");
    return false;
  }
  const auto members = static_cast<double>(context.unit.member_count(scope));
  if (amount >= 1.0 && amount <= members && std::floor(amount) == amount) return true;
  context.error(amount_out_of_range, place,
                fmt::format("there are {} {}; write a whole number from 1 to {}", members,
                            context.unit.scope(scope).plural, members));
  return false;
}

std::string_view quantifier_word(language::Quantifier quantifier) {
  using language::Quantifier;
  switch (quantifier) {
    case Quantifier::each:
      return "each";
    case Quantifier::every:
      return "every";
    case Quantifier::any:
      return "any";
    case Quantifier::no:
      return "no";
    case Quantifier::at_least_count:
    case Quantifier::at_least_share:
      return "at least";
  }
  return "";
}

void report_missing_each(Context& context, const Symbol& symbol,
                         const language::Reference& reference, std::string_view line_word) {
  const std::string& scope = context.scope_name(*symbol.scope);
  context.error(
      all_or_each, reference.name.place,
      fmt::format("`{0}` is `of {1}`: say which; `{2} {0} of each {1}` is one line for each "
                  "{1}, each counted by itself; if they come together, write an `inside` "
                  "that shows them and let `{2}` lead to that",
                  symbol.name, scope, line_word));
}

void report_not_each(Context& context, const Symbol& symbol, const language::Selection& selection,
                     std::string_view line_word) {
  context.error(
      all_or_each, selection.place,
      fmt::format("`{}` takes `each`, not `{}`: one line for each {}, each counted by "
                  "itself; if they come together, write an `inside` that shows `{}` and let "
                  "this line lead to that",
                  line_word, quantifier_word(selection.quantifier),
                  context.scope_name(*symbol.scope), symbol.name));
}

}  // namespace

std::optional<Variable> Variables::find(ScopeId scope) const {
  for (std::size_t i = bound_.size(); i > 0; --i) {
    if (bound_[i - 1] == scope) return Variable{static_cast<std::uint32_t>(i)};
  }
  if (own_ == scope) return Variable{0};
  return std::nullopt;
}

std::optional<Term> resolve_term(Context& context, const language::Word& word, ScopeId scope,
                                 std::string_view thing, const Variables& variables) {
  const auto named_scope = context.unit.find_scope(word.text);
  if (named_scope == scope) {
    if (const auto variable = variables.find(scope)) return Term(*variable);
    return report_unbound(context, word, scope, thing);
  }
  if (!named_scope || context.unit.find_member(scope, word.text)) {
    const auto member = find_member(context.unit, scope, word, context.diagnostics);
    if (!member) return std::nullopt;
    context.note_member(word.place);
    return Term(*member);
  }
  context.error(
      wrong_scope, word.place,
      fmt::format("`{}` goes with {}, not with {}", thing, with_article(context.scope_name(scope)),
                  with_article(context.scope_name(*named_scope))));
  return std::nullopt;
}

std::optional<Term> resolve_member(Context& context, const Symbol& symbol,
                                   const language::Word& name, const language::Word* of,
                                   const Variables& variables) {
  if (!symbol.scope) {
    if (of == nullptr) return Term(NoMember{});
    context.error(no_members, of->place,
                  fmt::format("`{0}` stands once for the whole unit; write `{0}` without `of {1}`",
                              symbol.name, of->text));
    return std::nullopt;
  }
  if (of != nullptr) return resolve_term(context, *of, *symbol.scope, symbol.name, variables);
  const std::string& scope = context.scope_name(*symbol.scope);
  const std::string own =
      variables.find(*symbol.scope) ? fmt::format("`{} of {}` or ", symbol.name, scope) : "";
  context.error(which_member, name.place,
                fmt::format("`{0}` is `of {1}`: say which, {2}`{0} of {3}`", symbol.name, scope,
                            own, context.unit.scope(*symbol.scope).members.front()));
  return std::nullopt;
}

std::optional<Selection> resolve_selection(Context& context, const language::Selection& selection,
                                           const Variables& variables) {
  if (selection.quantifier == language::Quantifier::each) {
    context.error(
        each_in_condition, selection.place,
        "`each` is for lines that lead somewhere; a condition takes `every`, `any`, `no` or "
        "`at least`");
    return std::nullopt;
  }
  const auto result = resolve_filter(context, selection, variables);
  if (!result || !check_amount(context, selection, result->scope)) return std::nullopt;
  return result;
}

std::optional<Term> resolve_single(Context& context, const Symbol& symbol,
                                   const language::Reference& reference, const Variables& variables,
                                   std::string_view instead) {
  const language::Word* of = nullptr;
  if (reference.target) {
    if (const auto* selection = std::get_if<language::Selection>(&*reference.target)) {
      context.error(which_member, selection->place, fmt::format("one is meant here; {}", instead));
      return std::nullopt;
    }
    of = &std::get<language::Word>(*reference.target);
  }
  return resolve_member(context, symbol, reference.name, of, variables);
}

std::optional<Reach> resolve_reach(Context& context, const Symbol& symbol,
                                   const language::Reference& reference, const Variables& variables,
                                   std::string_view line_word) {
  if (symbol.scope && !reference.target) {
    report_missing_each(context, symbol, reference, line_word);
    return std::nullopt;
  }
  const auto* selection =
      reference.target ? std::get_if<language::Selection>(&*reference.target) : nullptr;
  if (selection == nullptr) {
    const auto* of = reference.target ? &std::get<language::Word>(*reference.target) : nullptr;
    const auto term = resolve_member(context, symbol, reference.name, of, variables);
    bool left_out = false;
    if (!term || !context.check_in_use(reference.name, symbol, *term, &left_out)) return {};
    return Reach(*term);
  }
  if (!symbol.scope) {
    context.error(
        no_members, selection->place,
        fmt::format("`{0}` stands once for the whole unit; write `{0}` alone", symbol.name));
    return std::nullopt;
  }
  if (selection->quantifier != language::Quantifier::each) {
    report_not_each(context, symbol, *selection, line_word);
    return std::nullopt;
  }
  const auto result = resolve_filter(context, *selection, variables);
  if (!result) return std::nullopt;
  if (result->scope != *symbol.scope) {
    context.error(wrong_scope, selection->scope.place,
                  fmt::format("`{}` goes with {}, not with {}", symbol.name,
                              with_article(context.scope_name(*symbol.scope)),
                              with_article(context.scope_name(result->scope))));
    return std::nullopt;
  }
  return Reach(*result);
}

}  // namespace slipcase::rulebase
