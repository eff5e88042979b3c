#include "rulebase/conditions.h"

#include <algorithm>

#include <fmt/core.h>

#include "rulebase/codes.h"
#include "rulebase/comparisons.h"
#include "rulebase/counts.h"
#include "rulebase/messages.h"
#include "rulebase/values.h"
#include "support/suggest.h"

namespace slipcase::rulebase {

namespace {

ConditionPtr negated_if(bool negated, const Place& place, ConditionPtr inner) {
  if (!negated || inner == nullptr) return inner;
  return make_condition(place, Not{std::move(inner)});
}

std::optional<Quantified::Kind> kind_of(language::Quantifier quantifier) {
  switch (quantifier) {
    case language::Quantifier::every:
      return Quantified::Kind::every;
    case language::Quantifier::any:
      return Quantified::Kind::any;
    case language::Quantifier::no:
      return Quantified::Kind::no;
    case language::Quantifier::at_least_count:
      return Quantified::Kind::at_least_count;
    case language::Quantifier::at_least_share:
      return Quantified::Kind::at_least_share;
    case language::Quantifier::each:
      break;
  }
  return std::nullopt;
}

class ConditionResolver {
 public:
  ConditionResolver(Context& context, const Place& place, const Variables& variables)
      : context_(context), place_(place), variables_(variables) {}

  ConditionPtr operator()(const language::Not& node) {
    ConditionPtr inner = resolve_condition(context_, *node.inner, variables_);
    return negated_if(true, place_, std::move(inner));
  }

  ConditionPtr operator()(const language::And& node) {
    auto parts = resolve_parts(node.parts);
    return parts ? make_condition(place_, AllOf{std::move(*parts)}) : nullptr;
  }

  ConditionPtr operator()(const language::Or& node) {
    auto parts = resolve_parts(node.parts);
    return parts ? make_condition(place_, AnyOf{std::move(*parts)}) : nullptr;
  }

  ConditionPtr operator()(const language::Quantified& node) {
    const auto selection = resolve_selection(context_, node.selection, variables_);
    if (!selection) return nullptr;
    const Variables inside = variables_.with(selection->scope);
    return quantified(node.selection, *selection, resolve_condition(context_, *node.inner, inside));
  }

  ConditionPtr operator()(const language::Comparison& node) {
    return resolve_comparison(context_, node, place_, variables_);
  }
  ConditionPtr operator()(const language::Between& node) {
    return resolve_between(context_, node, place_, variables_);
  }
  ConditionPtr operator()(const language::Within& node) {
    return resolve_within(context_, node, place_, variables_);
  }
  ConditionPtr operator()(const language::CodeTest& node) {
    return resolve_code_test(context_, node, place_, variables_);
  }

  ConditionPtr operator()(const language::IsWord& node) {
    const Symbol* symbol = single_name(node.path, Kind::detail, "`is`");
    if (symbol == nullptr) return nullptr;
    const auto term = member(node.path, *symbol);
    if (!term) return nullptr;
    const auto id = std::get<DetailId>(symbol->entity);
    const Detail& detail = context_.rules.details[id.at()];
    if (detail.type != Detail::Type::choice) {
      context_.error(not_a_condition, node.word.place,
                     fmt::format("`{0}` is {1}, not a word{2}", symbol->name, type_of(detail),
                                 detail.type == Detail::Type::yes_no
                                     ? fmt::format("; write `{0}` or `not {0}`", symbol->name)
                                     : ""));
      return nullptr;
    }
    const auto word = std::find(detail.words.begin(), detail.words.end(), node.word.text);
    if (word == detail.words.end()) {
      context_.error(unknown_word, node.word.place,
                     fmt::format("`{}` is never `{}`{}; it is {}", symbol->name, node.word.text,
                                 context_.did_you_mean(node.word.text, detail.words),
                                 quoted_list(detail.words)));
      return nullptr;
    }
    const auto index = static_cast<std::uint32_t>(word - detail.words.begin());
    return negated_if(node.negated, place_, make_condition(place_, DetailIs{id, *term, index}));
  }

  ConditionPtr operator()(const language::IsKnown& node) {
    if (!node.path.words.empty()) {
      const Symbol* symbol = context_.names.find(node.path.words.front().text);
      if (symbol != nullptr && symbol->finding) {
        const auto term = finding_member(node.path);
        if (!term) return nullptr;
        return negated_if(
            node.negated, place_,
            make_condition(place_, IsKnown{IsKnown::FindingRef{*symbol->finding, *term}}));
      }
    }
    const ValuePtr value = resolve_path(context_, node.path, variables_, true);
    if (value == nullptr) return nullptr;
    return negated_if(node.negated, place_, make_condition(place_, IsKnown{value}));
  }

  ConditionPtr operator()(const language::Happened& node) {
    const auto event = resolve_event(context_, node.event, variables_);
    std::optional<EventUse> since;
    if (node.since) {
      since = resolve_event(context_, *node.since, variables_);
      if (!since) return nullptr;
    }
    if (!event) return nullptr;
    return make_condition(place_, Happened{node.on_card, *event, since});
  }

  ConditionPtr operator()(const language::SoonAfter& node) {
    const auto later = resolve_event(context_, node.later, variables_);
    const auto earlier = resolve_event(context_, node.earlier, variables_);
    const auto at_most = resolve_quantity(context_, node.at_most);
    if (!later || !earlier || !at_most) return nullptr;
    const bool fits = at_most->dimension == units::of(units::Base::duration) ||
                      at_most->dimension == units::of(units::Base::distance);
    if (!fits || at_most->value < 0.0) {
      context_.error(wrong_dimension, node.at_most.place,
                     "how soon after is a time or a distance, as in `at most 30 days after` or `at "
                     "most 500 km after`");
      return nullptr;
    }
    return make_condition(place_, SoonAfter{*later, *at_most, *earlier});
  }

  ConditionPtr operator()(const language::Holds& node) {
    if (node.path.selection) return holds_of_selection(node);
    const Symbol* symbol = single_name(node.path, Kind::finding | Kind::detail, "a condition");
    if (symbol == nullptr) return nullptr;
    const auto term = member(node.path, *symbol);
    return term ? holds(node, *symbol, *term) : nullptr;
  }

 private:
  std::optional<std::vector<ConditionPtr>> resolve_parts(
      const std::vector<language::Condition>& conditions) {
    std::vector<ConditionPtr> parts;
    bool good = true;
    for (const language::Condition& condition : conditions) {
      parts.push_back(resolve_condition(context_, condition, variables_));
      good = good && parts.back() != nullptr;
    }
    if (!good) return std::nullopt;
    return parts;
  }

  ConditionPtr quantified(const language::Selection& written, const Selection& selection,
                          ConditionPtr inner) {
    const auto kind = kind_of(written.quantifier);
    if (inner == nullptr || !kind) return nullptr;
    const auto amount =
        written.amount ? static_cast<std::uint64_t>(written.amount->value) : std::uint64_t{0};
    return make_condition(place_, Quantified{*kind, amount, selection, std::move(inner)});
  }

  // `flare of any shift` is short for `any shift ( flare of shift )`.
  ConditionPtr holds_of_selection(const language::Holds& node) {
    const Symbol* symbol = single_name(node.path, Kind::finding | Kind::detail, "a condition");
    if (symbol == nullptr) return nullptr;
    const language::Selection& written = *node.path.selection;
    const auto selection = resolve_selection(context_, written, variables_);
    if (!selection) return nullptr;
    const language::Word scope{context_.scope_name(selection->scope), written.scope.place};
    const Variables inside = variables_.with(selection->scope);
    const auto term = resolve_member(context_, *symbol, node.path.words.front(), &scope, inside);
    if (!term) return nullptr;
    return quantified(written, *selection, holds(node, *symbol, *term));
  }

  ConditionPtr holds(const language::Holds& node, const Symbol& symbol, const Term& term) {
    if (symbol.finding) {
      std::uint32_t grade = 1;
      if (node.at_least) {
        const auto& grades = context_.rules.findings[symbol.finding->at()].grades;
        const auto found = resolve_grade(context_, *node.at_least, grades, symbol.name);
        if (!found) return nullptr;
        grade = *found;
      }
      return make_condition(place_, FindingHolds{*symbol.finding, term, grade});
    }
    const auto id = std::get<DetailId>(symbol.entity);
    const Detail& detail = context_.rules.details[id.at()];
    if (detail.type != Detail::Type::yes_no || node.at_least) {
      report_no_condition(node, detail);
      return nullptr;
    }
    return make_condition(place_, DetailYes{id, term});
  }

  void report_no_condition(const language::Holds& node, const Detail& detail) {
    const std::string& name = detail.header.name;
    std::string hint = fmt::format("compare it, as in `{} > ...`", name);
    if (detail.type == Detail::Type::choice) {
      hint =
          fmt::format("write `{} is {}`", name, detail.words.empty() ? "" : detail.words.front());
    } else if (detail.type == Detail::Type::yes_no) {
      hint = "it has no grades";
    }
    context_.error(not_a_condition, node.path.words.front().place,
                   fmt::format("`{}` is {}; {}", name, type_of(detail), hint));
  }

  static std::string type_of(const Detail& detail) {
    switch (detail.type) {
      case Detail::Type::yes_no:
        return "yes or no";
      case Detail::Type::date:
        return "a date";
      case Detail::Type::choice:
        return "one of " + quoted_list(detail.words);
      case Detail::Type::quantity:
        return "a " + units::describe(detail.dimension);
    }
    return "";
  }

  // A condition asks a name and perhaps its member, not a function of it.
  const Symbol* single_name(const language::Path& path, Kinds wanted, std::string_view what_for) {
    if (path.words.empty()) return nullptr;
    const language::Word& name = path.words.front();
    if (is_function(name.text)) {
      context_.error(
          not_a_condition, path.place,
          fmt::format("this is a value, not yes or no; compare it, as in `{} of ... > ...`",
                      name.text));
      return nullptr;
    }
    const Symbol* symbol = context_.names.find(name.text);
    if (symbol != nullptr && !symbol->uncertain && !symbol->is(wanted) &&
        explain_other_kind(name, *symbol)) {
      return nullptr;
    }
    return context_.find(name, wanted, what_for);
  }

  bool explain_other_kind(const language::Word& name, const Symbol& symbol) {
    std::string hint;
    if (symbol.kind == Kind::reading) {
      hint = fmt::format("is a reading; compare it, as in `{}{} > ...`", name.text,
                         symbol.scope ? " of " + context_.scope_name(*symbol.scope) : "");
    } else if (symbol.event) {
      hint = fmt::format("is {}; write `happened {}` or `on card {}`", with_article(symbol.kind),
                         name.text, name.text);
    } else if (symbol.kind == Kind::cause || symbol.kind == Kind::inside) {
      hint = fmt::format(
          "is {}, which nobody sees; a condition asks findings, details, readings, "
          "events and codes",
          with_article(symbol.kind));
    }
    if (hint.empty()) return false;
    context_.error(not_a_condition, name.place, fmt::format("`{}` {}", name.text, hint));
    return true;
  }

  std::optional<Term> finding_member(const language::Path& path) {
    const Symbol* symbol = single_name(path, Kind::finding, "a condition");
    if (symbol == nullptr) return std::nullopt;
    return member(path, *symbol);
  }

  std::optional<Term> member(const language::Path& path, const Symbol& symbol) {
    if (path.words.size() > 2) {
      context_.error(not_a_condition, path.words[2].place,
                     fmt::format("nothing can stand behind `{} of {}`", path.words[0].text,
                                 path.words[1].text));
      return std::nullopt;
    }
    if (path.selection) {
      context_.error(not_a_condition, path.selection->place,
                     "one is meant here; for several put the condition in parentheses behind the "
                     "selection, as in `any shift ( flare of shift )`");
      return std::nullopt;
    }
    const language::Word* of = path.words.size() > 1 ? &path.words[1] : nullptr;
    const auto term = resolve_member(context_, symbol, path.words.front(), of, variables_);
    if (!term || !context_.check_in_use(path.words.front(), symbol, *term)) return std::nullopt;
    return term;
  }

  Context& context_;
  const Place& place_;
  const Variables& variables_;
};

}  // namespace

ConditionPtr resolve_condition(Context& context, const language::Condition& condition,
                               const Variables& variables) {
  return std::visit(ConditionResolver(context, condition.place, variables), condition.node);
}

}  // namespace slipcase::rulebase
