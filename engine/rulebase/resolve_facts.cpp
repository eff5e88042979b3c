// Details, readings, events, findings: what can be known about a job.
#include <algorithm>

#include <fmt/core.h>

#include "rulebase/conditions.h"
#include "rulebase/counts.h"
#include "rulebase/declare.h"
#include "rulebase/lines.h"
#include "rulebase/messages.h"
#include "rulebase/resolve_parts.h"
#include "support/suggest.h"

namespace slipcase::rulebase {

namespace {

// What cannot be measured is reported once, not wherever it is compared.
void set_dimension(Context& context, const MergedDeclaration& declaration,
                   const language::Word& word, units::Dimension& dimension) {
  if (const auto known = units::dimension_named(word.text)) {
    dimension = *known;
    return;
  }
  const auto& names = units::dimension_names();
  context.error(unknown_dimension, word.place,
                fmt::format("`{}` is nothing that can be measured{}; there is {}", word.text,
                            context.did_you_mean(word.text, names), quoted_list(names, 20)));
  context.names.find(declaration.declaration->name.text)->uncertain = true;
}

std::vector<std::string> resolve_words(Context& context, const language::ChoiceType& type) {
  std::vector<std::string> words;
  for (const language::Word& word : type.words) {
    if (std::find(words.begin(), words.end(), word.text) != words.end()) {
      context.error(named_twice, word.place, fmt::format("`{}` is named already", word.text));
    } else {
      words.push_back(word.text);
    }
  }
  return words;
}

std::string resolve_asks(Context& context, const MergedDeclaration& declaration) {
  const auto* asks = find_line<language::Asks>(declaration);
  if (asks == nullptr) return "";
  check_placeholders(context, asks->text, declaration.scope);
  return asks->text.text;
}

bool asks_driver(const MergedDeclaration& declaration) {
  const auto* asks = find_line<language::Asks>(declaration);
  return asks != nullptr && asks->driver;
}

// An event of a member can count for the whole unit and the other way round, but one of a shift
// cannot count as one of an element.
bool scopes_agree(const Header& from, const Header& to) {
  return !from.scope || !to.scope || *from.scope == *to.scope;
}

void resolve_grades(Context& context, const MergedDeclaration& declaration, Finding& finding) {
  const Variables variables(declaration.scope);
  std::vector<std::string> seen;
  for_each_line<language::Grade>(context, declaration, [&](const auto& line, const auto&) {
    if (!line.when) return;
    const bool again = std::find(seen.begin(), seen.end(), line.name.text) != seen.end();
    seen.push_back(line.name.text);
    ConditionPtr when = resolve_condition(context, *line.when, variables);
    const auto grade =
        std::find_if(finding.grades.begin(), finding.grades.end(),
                     [&](const GradeLine& known) { return known.name == line.name.text; });
    if (when != nullptr && !again && grade != finding.grades.end()) grade->when = std::move(when);
  });
}

/// Whether both lines hold for some member.
bool meet(const Context& context, const MergedDeclaration& declaration, const MergedClause& a,
          const MergedClause& b) {
  const auto of_a = holds_for(context, declaration, a);
  const auto of_b = holds_for(context, declaration, b);
  for (const OnlyFor& one : of_a) {
    for (const OnlyFor& other : of_b) {
      if (!one || !other || one == other) return true;
    }
  }
  return false;
}

void check_two_rates(Context& context, const MergedDeclaration& declaration) {
  for_each_line<language::Overall>(context, declaration, [&](const auto& overall, const auto& a) {
    for_each_line<language::Otherwise>(context, declaration, [&](const auto& other, const auto& b) {
      if (!meet(context, declaration, a, b)) return;
      auto& diagnostic = context.error(
          two_rates, overall.count.place,
          fmt::format("`{}` has `otherwise` and `overall`; write one: `overall` counts all cars "
                      "that come in, `otherwise` those with none of the causes that show it",
                      declaration.declaration->name.text));
      diagnostic.notes.push_back({other.count.place, "the other is here"});
    });
  });
}

void resolve_rates(Context& context, const MergedDeclaration& declaration, Finding& finding) {
  const bool several = declaration.scope.has_value();
  const std::string& name = finding.header.name;
  const auto put = [&](PerMember<GradedLine>& rates, const language::GradedCount& count,
                       const MergedClause& line) {
    auto graded = resolve_graded(context, count, finding.grades, name, several && !line.only_for);
    if (!graded) return;
    if (line.only_for) {
      rates.of_member.emplace_back(*line.only_for, std::move(*graded));
    } else if (line.removed_for.empty()) {
      rates.all = std::move(*graded);
    } else {
      // In front, so that a line of a member's own still goes before it.
      for (const OnlyFor& member : holds_for(context, declaration, line))
        rates.of_member.insert(rates.of_member.begin(), {*member, *graded});
    }
  };
  for_each_line<language::Otherwise>(context, declaration, [&](const auto& body, const auto& line) {
    put(finding.otherwise, body.count, line);
  });
  for_each_line<language::Overall>(context, declaration, [&](const auto& body, const auto& line) {
    put(finding.overall, body.count, line);
  });
  check_two_rates(context, declaration);
}

// A finding needs a way to be known. With grades every grade does.
void check_known_by(Context& context, const MergedDeclaration& declaration,
                    const Finding& finding) {
  const auto* when = find_line<language::When>(declaration);
  const bool asked = find_line<language::Asks>(declaration) != nullptr;
  if (when != nullptr && !finding.grades.empty()) {
    context.error(
        grade_conditions, when->condition.place,
        fmt::format("`{0}` has grades: write the conditions behind them, as in `grade {1} "
                    "when ...`",
                    finding.header.name, finding.grades.front().name));
  }
  if (asked || declaration.broken) return;
  if (finding.grades.empty() && when == nullptr) {
    context.error(
        clause_missing, finding.header.place,
        fmt::format("nothing says how `{}` is known; write `asks \"...\"` for a question or "
                    "`when ...` for a condition",
                    finding.header.name));
  }
  for_each_line<language::Grade>(context, declaration, [&](const auto& line, const auto&) {
    if (line.when) return;
    context.error(grade_conditions, line.name.place,
                  fmt::format("nothing says when `{0}` is `{1}`; write `grade {1} when ...`, or "
                              "`asks \"...\"` to have it answered",
                              finding.header.name, line.name.text));
  });
}

}  // namespace

void resolve_detail(Context& context, const MergedDeclaration& declaration, DetailId id) {
  Detail& detail = context.rules.details[id.at()];
  detail.asks = resolve_asks(context, declaration);
  detail.asks_driver = asks_driver(declaration);
  const auto& type = declaration.declaration->type;
  if (!type) return;
  if (std::holds_alternative<language::YesNoType>(*type)) {
    detail.type = Detail::Type::yes_no;
  } else if (std::holds_alternative<language::DateType>(*type)) {
    detail.type = Detail::Type::date;
  } else if (const auto* choice = std::get_if<language::ChoiceType>(&*type)) {
    detail.type = Detail::Type::choice;
    detail.words = resolve_words(context, *choice);
  } else {
    detail.type = Detail::Type::quantity;
    const auto& name = std::get<language::DimensionType>(*type).name;
    set_dimension(context, declaration, name, detail.dimension);
  }
}

void resolve_reading(Context& context, const MergedDeclaration& declaration, ReadingId id) {
  const auto& type = declaration.declaration->type;
  const auto* name = type ? std::get_if<language::DimensionType>(&*type) : nullptr;
  if (name == nullptr) {
    if (declaration.broken) return;
    context.error(clause_missing, declaration.declaration->name.place,
                  "a reading is a number: write what it measures, as in `reading fill_pressure of "
                  "element : pressure`");
    return;
  }
  set_dimension(context, declaration, name->name, context.rules.readings[id.at()].dimension);
}

void resolve_event(Context& context, const MergedDeclaration& declaration, EventId id) {
  context.rules.events[id.at()].asks = resolve_asks(context, declaration);
  for_each_line<language::CountsAs>(context, declaration, [&](const auto& line, const auto&) {
    bool left_out = false;
    const Symbol* symbol = context.find_target(line.event, Kind::event, "`counts as`", left_out);
    if (symbol == nullptr) return;
    auto& counts_as = context.rules.events[id.at()].counts_as;
    const Header& from = context.rules.events[id.at()].header;
    const Header& to = context.rules.events[symbol->event->at()].header;
    if (!scopes_agree(from, to)) {
      context.error(
          wrong_scope, line.event.place,
          fmt::format("`{}` is `of {}`, `{}` is `of {}`", from.name,
                      context.scope_name(*from.scope), to.name, context.scope_name(*to.scope)));
    } else if (std::find(counts_as.begin(), counts_as.end(), *symbol->event) != counts_as.end()) {
      context.error(named_twice, line.event.place,
                    fmt::format("`{}` is named already", line.event.text));
    } else {
      counts_as.push_back(*symbol->event);
    }
  });
}

void resolve_finding(Context& context, const MergedDeclaration& declaration, FindingId id) {
  Finding& finding = context.rules.findings[id.at()];
  finding.asks = resolve_asks(context, declaration);
  finding.asks_driver = asks_driver(declaration);
  resolve_cautions(context, declaration, finding.cautions);
  const Variables variables(declaration.scope);
  for_each_line<language::When>(context, declaration, [&](const auto& line, const auto&) {
    ConditionPtr when = resolve_condition(context, line.condition, variables);
    if (when != nullptr && !finding.when) finding.when = std::move(when);
  });
  resolve_grades(context, declaration, finding);
  resolve_rates(context, declaration, finding);
  const bool has_rate = find_line<language::Otherwise>(declaration) != nullptr ||
                        find_line<language::Overall>(declaration) != nullptr;
  if (has_rate || declaration.broken) context.note_rate(id);
  check_known_by(context, declaration, finding);
}

void resolve_at_most_one(Context& context, const MergedDeclaration& declaration) {
  const language::Declaration& written = *declaration.declaration;
  context.enter(declaration.file->origin, written.place);
  AtMostOne result;
  result.per = declaration.scope;
  result.place = written.place;
  std::size_t left_out_count = 0;
  bool good = !(written.of && !declaration.scope);
  for (const language::Word& word : written.alternatives) {
    bool left_out = false;
    const Symbol* symbol = context.find_target(word, Kind::finding, "`at most one`", left_out);
    if (left_out) ++left_out_count;
    if (symbol == nullptr) continue;
    if (good && symbol->scope != result.per) {
      context.error(wrong_scope, word.place,
                    symbol->scope
                        ? fmt::format("`{0}` is `of {1}`; write `at most one per {1} of ...`, with "
                                      "findings of one kind only",
                                      word.text, context.scope_name(*symbol->scope))
                        : fmt::format("`{}` stands once for the whole unit; write `at most one of "
                                      "...` without `per`",
                                      word.text));
      continue;
    }
    auto& list = result.findings;
    if (std::find(list.begin(), list.end(), *symbol->finding) != list.end()) {
      context.error(named_twice, word.place, fmt::format("`{}` is named already", word.text));
      continue;
    }
    list.push_back(*symbol->finding);
  }
  if (written.alternatives.size() < 2 && !declaration.broken) {
    context.error(too_few_alternatives, written.place, "`at most one` needs two findings or more");
  }
  const bool nothing_left = left_out_count > 0 && result.findings.size() < 2;
  if (good && !nothing_left) context.rules.at_most_one.push_back(std::move(result));
}

}  // namespace slipcase::rulebase
