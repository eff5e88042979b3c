// Which lines belong where, before any of them is looked into.
#include <fmt/core.h>

#include "rulebase/clauses.h"
#include "rulebase/declare.h"
#include "rulebase/messages.h"

namespace slipcase::rulebase {

namespace {

void report_not_here(Context& context, const MergedClause& line,
                     const language::Declaration& declaration) {
  const bool asks = std::holds_alternative<language::Asks>(line.clause->body);
  if (asks && declaration.kind == language::DeclarationKind::inside) {
    context.error(
        inside_not_asked, line.clause->first_word.place,
        fmt::format("`{}` is an inside, which nobody can see, so it has no `asks`; make it a "
                    "`finding`, or add a finding and let the inside show it",
                    declaration.name.text));
    return;
  }
  const std::string name =
      declaration.kind == language::DeclarationKind::trial || declaration.name.text.empty()
          ? "this"
          : "`" + declaration.name.text + "`";
  context.error(clause_not_here, line.clause->first_word.place,
                fmt::format("{} is {}; {}", name, with_article(declaration.kind),
                            hint_for(*line.clause, declaration.kind)));
}

// `because` behind a `shows` that could not be read.
bool is_rest_of_line(const MergedDeclaration& declaration, const MergedClause& line) {
  return declaration.broken && std::holds_alternative<language::Because>(line.clause->body);
}

bool same_single(const MergedClause& a, const MergedClause& b) {
  return is_single(*a.clause) && a.clause->body.index() == b.clause->body.index() &&
         a.only_for == b.only_for;
}

void check_twice(Context& context, const MergedDeclaration& merged, std::size_t at) {
  for (std::size_t i = 0; i < at; ++i) {
    if (!same_single(merged.clauses[i], merged.clauses[at])) continue;
    const language::Clause& clause = *merged.clauses[at].clause;
    auto& diagnostic = context.error(
        clause_twice, clause.first_word.place,
        fmt::format("`{}` is said already; keep one of the two", clause.first_word.text));
    diagnostic.notes.push_back({merged.clauses[i].clause->place, "it is said here"});
    return;
  }
}

}  // namespace

void check_lines(Context& context, const Merged& merged) {
  for (const MergedDeclaration& declaration : merged.declarations) {
    if (declaration.uncertain) continue;
    for (std::size_t i = 0; i < declaration.clauses.size(); ++i) {
      const MergedClause& line = declaration.clauses[i];
      if (!belongs_in(*line.clause, declaration.declaration->kind)) {
        if (is_rest_of_line(declaration, line)) continue;
        report_not_here(context, line, *declaration.declaration);
      } else if (is_single(*line.clause)) {
        check_twice(context, declaration, i);
      }
    }
  }
}

void check_placeholders(Context& context, const language::Text& text,
                        std::optional<ScopeId> scope) {
  for (std::size_t open = text.text.find('{'); open != std::string::npos;
       open = text.text.find('{', open + 1)) {
    const std::size_t close = text.text.find('}', open);
    if (close == std::string::npos) return;
    const std::string name = text.text.substr(open + 1, close - open - 1);
    if (scope && name == context.scope_name(*scope)) continue;
    context.error(placeholder_unknown, text.place,
                  scope
                      ? fmt::format("`{{{}}}` stands for nothing here; write `{{{}}}`", name,
                                    context.scope_name(*scope))
                      : fmt::format("`{{{}}}` stands for nothing here: the declaration is not `of` "
                                    "anything",
                                    name));
    return;
  }
}

}  // namespace slipcase::rulebase
