// Checks, access, repairs: what a shop does, what it costs and what it tells.
#include <algorithm>
#include <cmath>

#include <fmt/core.h>

#include "rulebase/counts.h"
#include "rulebase/declare.h"
#include "rulebase/lines.h"
#include "rulebase/messages.h"
#include "rulebase/resolve_parts.h"
#include "rulebase/targets.h"
#include "rulebase/values.h"

namespace slipcase::rulebase {

namespace {

constexpr double ms_per_minute = 60'000.0;

template <class Id>
bool add_id(Context& context, std::vector<Id>& list, Id id, const language::Word& name) {
  if (std::find(list.begin(), list.end(), id) != list.end()) {
    context.error(named_twice, name.place, fmt::format("`{}` is named already", name.text));
    return false;
  }
  list.push_back(id);
  return true;
}

// Time, money, access, cautions: what checks, access and repairs have in common.
class WorkResolver {
 public:
  WorkResolver(Context& context, const MergedDeclaration& declaration)
      : context_(context), declaration_(declaration), variables_(declaration.scope) {}

  template <class Work>
  void resolve(Work& work) {
    time(work.minutes);
    for_each_line<language::Costs>(context_, declaration_, [&](const auto& line, const auto&) {
      if (line.money.value >= 0.0) {
        work.money = line.money.value;
      } else {
        context_.error(impossible_number, line.money.place, "what it costs is 0 or more");
      }
    });
    for_each_line<language::Needs>(context_, declaration_, [&](const auto& line, const auto&) {
      for (const auto& reference : line.what) {
        plain<AccessId>(reference, Kind::access, "`needs`", work.needs);
      }
    });
    cautions(work.cautions);
  }

  void cautions(std::vector<CautionId>& list) {
    for_each_line<language::Cautions>(context_, declaration_, [&](const auto& line, const auto&) {
      for (const auto& reference : line.what) {
        plain<CautionId>(reference, Kind::caution, "`caution`", list);
      }
    });
  }

  template <class Step>
  void resolve_order(Step& step) {
    for_each_line<language::OnlyAfter>(context_, declaration_, [&](const auto& line, const auto&) {
      targets(line.what, step.only_after, "only after");
    });
    for_each_line<language::FollowWith>(context_, declaration_, [&](const auto& line, const auto&) {
      targets(line.what, step.follow_with, "follow with");
    });
    if (const auto* how = find_line<language::How>(declaration_)) {
      step.how = how->text.text;
      check_placeholders(context_, how->text, declaration_.scope);
    }
  }

 private:
  void time(double& minutes) {
    const auto* takes = find_line<language::Takes>(declaration_);
    if (takes == nullptr) {
      if (declaration_.broken) return;
      context_.error(clause_missing, declaration_.declaration->name.place,
                     fmt::format("nothing says how long `{}` takes; write `takes 20 minutes`",
                                 declaration_.declaration->name.text));
      return;
    }
    const auto quantity = resolve_quantity_of(context_, takes->time,
                                              units::of(units::Base::duration), "what it takes");
    if (!quantity) return;
    if (quantity->value < 0.0) {
      context_.error(impossible_number, takes->time.place, "what it takes is 0 or more");
      return;
    }
    minutes = quantity->value / ms_per_minute;
  }

  template <class Id>
  void plain(const language::Reference& reference, Kinds kind, std::string_view what_for,
             std::vector<Id>& list) {
    bool left_out = false;
    const Symbol* symbol = context_.find_target(reference.name, kind, what_for, left_out);
    if (symbol == nullptr || !resolve_single(context_, *symbol, reference, variables_, "")) return;
    add_id(context_, list, std::get<Id>(symbol->entity), reference.name);
  }

  void targets(const std::vector<language::Reference>& references, std::vector<StepTarget>& list,
               std::string_view line_word) {
    for (const language::Reference& reference : references) {
      bool left_out = false;
      const Symbol* symbol =
          context_.find_target(reference.name, Kind::check | Kind::repair | Kind::event,
                               fmt::format("`{}`", line_word), left_out);
      if (symbol == nullptr) continue;
      const auto reach = resolve_reach(context_, *symbol, reference, variables_, line_word);
      if (!reach) continue;
      if (symbol->kind == Kind::check) {
        list.push_back({std::get<CheckId>(symbol->entity), *reach});
      } else if (symbol->kind == Kind::repair) {
        list.push_back({std::get<RepairId>(symbol->entity), *reach});
      } else {
        list.push_back({*symbol->event, *reach});
      }
    }
  }

  Context& context_;
  const MergedDeclaration& declaration_;
  Variables variables_;
};

std::optional<AnswerTarget> resolve_answer(Context& context, const language::Reference& reference,
                                           const Variables& variables) {
  bool left_out = false;
  const Symbol* symbol = context.find_target(
      reference.name, Kind::finding | Kind::detail | Kind::reading, "`answers`", left_out);
  if (symbol == nullptr) return std::nullopt;
  const auto reach = resolve_reach(context, *symbol, reference, variables, "answers");
  if (!reach) return std::nullopt;
  if (symbol->finding) return AnswerTarget{*symbol->finding, *reach};
  if (symbol->kind == Kind::detail) return AnswerTarget{std::get<DetailId>(symbol->entity), *reach};
  return AnswerTarget{std::get<ReadingId>(symbol->entity), *reach};
}

std::optional<Flag> resolve_flag(Context& context, const language::Flags& body,
                                 const MergedClause& line, const Variables& variables) {
  bool left_out = false;
  const Symbol* symbol = context.find_target(body.what.name, Kind::cause, "`flags`", left_out);
  const auto bad = resolve_count(context, body.bad);
  const auto good = resolve_count(context, body.good);
  if (symbol == nullptr) return std::nullopt;
  const auto reach = resolve_reach(context, *symbol, body.what, variables, "flags");
  if (!reach || !bad || !good) return std::nullopt;
  return Flag{std::get<CauseId>(symbol->entity), *reach, *bad, *good, line.clause->place};
}

// "Good" are cars with none of what the check flags, so there is one count of them.
void check_good_counts(Context& context, const Check& check) {
  for (const Flag& flag : check.flags) {
    const Flag& first = check.flags.front();
    if (flag.good == first.good) continue;
    auto& diagnostic = context.error(
        good_counts_differ, flag.place,
        fmt::format(
            "`{}` has two different counts of good cars; cars with none of what it flags are "
            "the same cars in every line",
            check.header.name));
    diagnostic.notes.push_back({first.place, fmt::format("here it is {}", first.good.text())});
  }
}

// A check that flags is itself a finding: its good cars are those without a listed cause.
void fill_finding(Context& context, const Check& check) {
  if (!check.finding || check.flags.empty()) return;
  Finding& finding = context.rules.findings[check.finding->at()];
  const Flag& first = check.flags.front();
  finding.otherwise.all = GradedLine{{first.good}, false, first.place};
}

std::optional<CureLine> resolve_cure(Context& context, const language::Cure& cure,
                                     const Variables& variables) {
  bool left_out = false;
  const Symbol* symbol = context.find_target(cure.what.name, Kind::cause, "`cures`", left_out);
  if (symbol == nullptr) return std::nullopt;
  const auto reach = resolve_reach(context, *symbol, cure.what, variables, "cures");
  std::optional<units::Count> count;
  if (cure.count) {
    const auto line = resolve_count_line(context, *cure.count, false);
    if (!line) return std::nullopt;
    count = line->count;
  }
  if (!reach) return std::nullopt;
  return CureLine{std::get<CauseId>(symbol->entity), *reach, count};
}

}  // namespace

void resolve_check(Context& context, const MergedDeclaration& declaration, CheckId id) {
  Check& check = context.rules.checks[id.at()];
  const Variables variables(declaration.scope);
  WorkResolver work(context, declaration);
  work.resolve(check);
  work.resolve_order(check);
  for_each_line<language::Answers>(context, declaration, [&](const auto& line, const auto&) {
    for (const auto& reference : line.what) {
      const auto answer = resolve_answer(context, reference, variables);
      if (answer) check.answers.push_back(*answer);
    }
  });
  for_each_line<language::Flags>(context, declaration, [&](const auto& body, const auto& line) {
    const auto flag = resolve_flag(context, body, line, variables);
    if (flag) check.flags.push_back(*flag);
  });
  check_good_counts(context, check);
  fill_finding(context, check);
  const bool tells_something = find_line<language::Answers>(declaration) != nullptr ||
                               find_line<language::Flags>(declaration) != nullptr;
  if (tells_something || declaration.broken) return;
  context.error(
      clause_missing, check.header.place,
      fmt::format("`{}` tells nothing; write `answers ...` with the findings it answers, or "
                  "`flags CAUSE in 17 of 20 bad, in 1 of 12 good`",
                  check.header.name));
}

void resolve_access(Context& context, const MergedDeclaration& declaration, AccessId id) {
  WorkResolver(context, declaration).resolve(context.rules.accesses[id.at()]);
}

void resolve_repair(Context& context, const MergedDeclaration& declaration, RepairId id) {
  Repair& repair = context.rules.repairs[id.at()];
  const Variables variables(declaration.scope);
  WorkResolver work(context, declaration);
  work.resolve(repair);
  work.resolve_order(repair);
  for_each_line<language::Cures>(context, declaration, [&](const auto& line, const auto&) {
    for (const auto& cure : line.what) {
      const auto resolved = resolve_cure(context, cure, variables);
      if (resolved) repair.cures.push_back(*resolved);
    }
  });
}

void resolve_cautions(Context& context, const MergedDeclaration& declaration,
                      std::vector<CautionId>& cautions) {
  WorkResolver(context, declaration).cautions(cautions);
}

void resolve_caution(Context& context, const MergedDeclaration& declaration, CautionId id) {
  if (find_line<language::Says>(declaration) != nullptr || declaration.broken) return;
  const Caution& caution = context.rules.cautions[id.at()];
  context.error(clause_missing, caution.header.place,
                fmt::format("`{}` has no text; write `says \"...\"` with what to beware of",
                            caution.header.name));
}

}  // namespace slipcase::rulebase
