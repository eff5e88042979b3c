// Causes and insides: what can be wrong, and what it leads to.
#include <cmath>

#include <fmt/core.h>

#include "rulebase/conditions.h"
#include "rulebase/counts.h"
#include "rulebase/lines.h"
#include "rulebase/messages.h"
#include "rulebase/resolve_parts.h"
#include "rulebase/scopes.h"

namespace slipcase::rulebase {

namespace {

class LinkResolver {
 public:
  LinkResolver(Context& context, const MergedDeclaration& declaration)
      : context_(context), declaration_(declaration), variables_(declaration.scope) {}

  std::vector<Link> shows() {
    std::vector<Link> links;
    for_each_line<language::Shows>(context_, declaration_, [&](const auto& body, const auto& line) {
      const auto link = resolve(body, line);
      if (!link) return;
      for (const OnlyFor& member : holds_for(context_, declaration_, line)) {
        links.push_back(*link);
        links.back().only_for = member;
      }
    });
    return links;
  }

  std::vector<CauseLink> causes() {
    std::vector<CauseLink> links;
    for_each_line<language::ThenCauses>(
        context_, declaration_, [&](const auto& body, const auto& line) {
          const auto link = resolve(body, line);
          if (!link) return;
          for (const OnlyFor& member : holds_for(context_, declaration_, line)) {
            links.push_back(*link);
            links.back().only_for = member;
          }
        });
    return links;
  }

 private:
  // The other of the two words for what leads somewhere.
  bool is_other_word(const language::Word& name, Kinds other, std::string_view hint) {
    const Symbol* symbol = context_.names.find(name.text);
    if (symbol == nullptr || !symbol->is(other)) return false;
    auto& diagnostic =
        context_.error(wrong_link_word, name.place,
                       fmt::format("`{}` is {}; {}", name.text, with_article(symbol->kind), hint));
    diagnostic.notes.push_back({symbol->place, "it is declared here"});
    return true;
  }

  bool is_checked_by(const Symbol& symbol, const language::Word& name) {
    if (symbol.kind != Kind::check) return false;
    context_.error(wrong_link_word, name.place,
                   fmt::format("`{}` is a check; how often it shows this is written there, as in "
                               "`flags {} in 17 of 20 bad, in 1 of 12 good`",
                               name.text, declaration_.declaration->name.text));
    return true;
  }

  std::optional<Link> resolve(const language::Shows& body, const MergedClause& line) {
    const language::Word& name = body.what.name;
    if (is_other_word(name, Kind::cause,
                      "write `then causes`, which is for a second fault that comes of the first")) {
      return std::nullopt;
    }
    bool left_out = false;
    const Symbol* symbol =
        context_.find_target(name, Kind::finding | Kind::inside, "`shows`", left_out);
    if (symbol == nullptr || is_checked_by(*symbol, name)) return std::nullopt;
    const auto reach = resolve_reach(context_, *symbol, body.what, variables_, "shows");
    const std::vector<GradeLine> no_grades;
    const auto& grades =
        symbol->finding ? context_.rules.findings[symbol->finding->at()].grades : no_grades;
    const bool several = reach && std::holds_alternative<Selection>(*reach);
    const auto count =
        resolve_graded(context_, body.count, grades, symbol->name, several || !reach);
    if (!reach || !count) return std::nullopt;
    Link link{{}, *reach, *count, body.because ? body.because->text : "", {}, line.clause->place};
    if (symbol->finding) {
      link.to = *symbol->finding;
    } else {
      link.to = std::get<InsideId>(symbol->entity);
    }
    return link;
  }

  std::optional<CauseLink> resolve(const language::ThenCauses& body, const MergedClause& line) {
    const language::Word& name = body.what.name;
    if (is_other_word(
            name, Kind::finding | Kind::inside,
            "write `shows`; `then causes` is for a second fault that comes of the first")) {
      return std::nullopt;
    }
    bool left_out = false;
    const Symbol* symbol = context_.find_target(name, Kind::cause, "`then causes`", left_out);
    if (symbol == nullptr) return std::nullopt;
    const auto reach = resolve_reach(context_, *symbol, body.what, variables_, "then causes");
    const bool several = reach && std::holds_alternative<Selection>(*reach);
    const auto count = resolve_count_line(context_, body.count, several || !reach);
    if (!reach || !count) return std::nullopt;
    return CauseLink{std::get<CauseId>(symbol->entity),      *reach, *count,
                     body.because ? body.because->text : "", {},     line.clause->place};
  }

  Context& context_;
  const MergedDeclaration& declaration_;
  Variables variables_;
};

void resolve_except(Context& context, const MergedDeclaration& declaration,
                    const language::Found& body, PerMember<CountLine>& found) {
  for (const language::MemberRate& rate : body.except) {
    const auto count = resolve_count_line(context, rate.count, false);
    for (const language::Word& word : rate.members) {
      if (!declaration.scope) {
        if (declaration.broken) return;
        context.error(no_members, word.place,
                      fmt::format("`{}` has no members: it stands once for the whole unit",
                                  declaration.declaration->name.text));
        return;
      }
      const auto member = find_member(context.unit, *declaration.scope, word, context.diagnostics);
      if (!member) continue;
      context.note_member(word.place);
      for (const auto& [known, unused] : found.of_member) {
        if (known != *member) continue;
        context.error(named_twice, word.place, fmt::format("`{}` has a count already", word.text));
      }
      if (count) found.of_member.emplace_back(*member, *count);
    }
  }
}

void resolve_found(Context& context, const MergedDeclaration& declaration, Cause& cause) {
  bool any = false;
  for_each_line<language::Found>(context, declaration, [&](const auto& body, const auto& line) {
    any = true;
    const bool several = declaration.scope && !line.only_for;
    const auto count = resolve_count_line(context, body.count, several);
    if (line.only_for) {
      if (count) cause.found.of_member.emplace_back(*line.only_for, *count);
      return;
    }
    if (count) cause.found.all = *count;
    resolve_except(context, declaration, body, cause.found);
  });
  if (any || declaration.broken) return;
  context.error(
      clause_missing, cause.header.place,
      fmt::format("nothing says how often `{}` is found; write `found in 1 of 50 jobs`, of "
                  "the jobs that come in",
                  cause.header.name));
}

void resolve_multipliers(Context& context, const MergedDeclaration& declaration, Cause& cause) {
  const Variables variables(declaration.scope);
  for_each_line<language::Becomes>(context, declaration, [&](const auto& body, const auto& line) {
    const ConditionPtr when = resolve_condition(context, body.when, variables);
    if (!(body.times.value > 0.0) || !std::isfinite(body.times.value)) {
      context.error(impossible_number, body.times.place,
                    "how many times as likely is a number above 0; for what cannot be write `never "
                    "when`");
      return;
    }
    if (when == nullptr) return;
    for (const OnlyFor& member : holds_for(context, declaration, line)) {
      cause.becomes.push_back({body.times.value, when, member, line.clause->place});
    }
  });
}

void resolve_restrictions(Context& context, const MergedDeclaration& declaration, Cause& cause) {
  const Variables variables(declaration.scope);
  const auto put = [&](bool never, const language::Condition& condition, const MergedClause& line) {
    const ConditionPtr when = resolve_condition(context, condition, variables);
    if (when == nullptr) return;
    for (const OnlyFor& member : holds_for(context, declaration, line)) {
      cause.restrictions.push_back({never, when, member, line.clause->place});
    }
  };
  for_each_line<language::NeverWhen>(context, declaration, [&](const auto& body, const auto& line) {
    put(true, body.when, line);
  });
  for_each_line<language::PossibleOnly>(
      context, declaration,
      [&](const auto& body, const auto& line) { put(false, body.when, line); });
}

}  // namespace

void resolve_cause(Context& context, const MergedDeclaration& declaration, CauseId id) {
  Cause& cause = context.rules.causes[id.at()];
  if (const auto* group = find_line<language::Group>(declaration)) {
    const Symbol* symbol = context.names.find(group->name.text);
    if (symbol != nullptr && symbol->kind == Kind::group) {
      cause.group = std::get<GroupId>(symbol->entity);
    }
  }
  resolve_found(context, declaration, cause);
  resolve_multipliers(context, declaration, cause);
  resolve_restrictions(context, declaration, cause);
  LinkResolver links(context, declaration);
  cause.shows = links.shows();
  cause.causes = links.causes();
}

void resolve_inside(Context& context, const MergedDeclaration& declaration, InsideId id) {
  Inside& inside = context.rules.insides[id.at()];
  const std::vector<GradeLine> no_grades;
  for_each_line<language::Otherwise>(context, declaration, [&](const auto& body, const auto& line) {
    const bool several = declaration.scope && !line.only_for;
    auto graded = resolve_graded(context, body.count, no_grades, inside.header.name, several);
    if (!graded) return;
    if (line.only_for) {
      inside.otherwise.of_member.emplace_back(*line.only_for, std::move(*graded));
    } else {
      inside.otherwise.all = std::move(*graded);
    }
  });
  if (find_line<language::Otherwise>(declaration) == nullptr && !declaration.broken) {
    context.error(
        clause_missing, inside.header.place,
        fmt::format("nothing says how often `{}` goes on for another reason; write "
                    "`otherwise in 1 of 100 jobs`, of jobs with none of the causes that show "
                    "it",
                    inside.header.name));
  }
  inside.shows = LinkResolver(context, declaration).shows();
}

}  // namespace slipcase::rulebase
