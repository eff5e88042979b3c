// Distrusts: what must not be used yet, and who may be judged meanwhile.
#include <algorithm>

#include <fmt/core.h>

#include "rulebase/conditions.h"
#include "rulebase/declare.h"
#include "rulebase/lines.h"
#include "rulebase/messages.h"
#include "rulebase/resolve_parts.h"
#include "rulebase/targets.h"
#include "rulebase/uses.h"

namespace slipcase::rulebase {

namespace {

// The member named behind `of`; no `of` means all. False if it was reported.
bool resolve_named_member(Context& context, const Symbol& symbol,
                          const language::Reference& reference, std::optional<MemberId>& member) {
  if (!reference.target) return true;
  if (std::holds_alternative<language::Selection>(*reference.target)) {
    context.error(which_member, reference.place,
                  fmt::format("write `{}` alone for all of them, or name one", symbol.name));
    return false;
  }
  const auto term = resolve_single(context, symbol, reference, Variables(std::nullopt), "");
  bool left_out = false;
  if (!term || !context.check_in_use(reference.name, symbol, *term, &left_out)) return false;
  if (const auto* named = std::get_if<MemberId>(&*term)) member = *named;
  return true;
}

template <class Item>
void add_once(Context& context, std::vector<Item>& list, Item item, const Place& place,
              std::string_view name) {
  const bool again = std::any_of(list.begin(), list.end(), [&](const Item& known) {
    return known.what == item.what && known.member == item.member;
  });
  if (again) {
    context.error(named_twice, place, fmt::format("`{}` is named already", name));
  } else {
    list.push_back(std::move(item));
  }
}

using Evidence = Named<ReadingId, FindingId, DetailId>;
using Judgement = Named<CauseId, GroupId>;
using Ending = Named<CheckId, RepairId, EventId>;

void add_evidence(Context& context, const std::vector<language::Reference>& references,
                  std::vector<Evidence>& list, std::string_view what_for) {
  for (const language::Reference& reference : references) {
    bool left_out = false;
    const Symbol* symbol = context.find_target(
        reference.name, Kind::reading | Kind::finding | Kind::detail, what_for, left_out);
    if (symbol == nullptr) continue;
    Evidence entry;
    if (symbol->finding) {
      entry.what = *symbol->finding;
    } else if (symbol->kind == Kind::reading) {
      entry.what = std::get<ReadingId>(symbol->entity);
    } else {
      entry.what = std::get<DetailId>(symbol->entity);
    }
    if (!resolve_named_member(context, *symbol, reference, entry.member)) continue;
    add_once(context, list, entry, reference.place, symbol->name);
  }
}

bool explain_group(Context& context, const language::Judged& entry) {
  const Symbol* symbol = context.names.find(entry.what.name.text);
  if (symbol == nullptr || entry.group || symbol->kind != Kind::group) return false;
  context.error(wrong_kind, entry.what.name.place,
                fmt::format("`{0}` is a group; write `group {0}`", symbol->name));
  return true;
}

void add_judged(Context& context, const std::vector<language::Judged>& entries,
                std::vector<Judgement>& list, std::string_view what_for) {
  for (const language::Judged& entry : entries) {
    if (explain_group(context, entry)) continue;
    bool left_out = false;
    const Symbol* symbol = context.find_target(
        entry.what.name, entry.group ? Kind::group : Kind::cause, what_for, left_out);
    if (symbol == nullptr) continue;
    Judgement judged;
    if (entry.group) {
      judged.what = std::get<GroupId>(symbol->entity);
    } else {
      judged.what = std::get<CauseId>(symbol->entity);
    }
    if (!resolve_named_member(context, *symbol, entry.what, judged.member)) continue;
    add_once(context, list, judged, entry.what.place, symbol->name);
  }
}

void add_endings(Context& context, const std::vector<language::Reference>& references,
                 std::vector<Ending>& list) {
  for (const language::Reference& reference : references) {
    bool left_out = false;
    const Symbol* symbol = context.find_target(
        reference.name, Kind::check | Kind::repair | Kind::event, "`until`", left_out);
    if (symbol == nullptr) continue;
    Ending ending;
    if (symbol->kind == Kind::check) {
      ending.what = std::get<CheckId>(symbol->entity);
    } else if (symbol->kind == Kind::repair) {
      ending.what = std::get<RepairId>(symbol->entity);
    } else {
      ending.what = *symbol->event;
    }
    if (!resolve_named_member(context, *symbol, reference, ending.member)) continue;
    add_once(context, list, ending, reference.place, symbol->name);
  }
}

bool can_be_asked_per_snapshot(const Condition& condition) {
  const Uses uses = uses_of(condition);
  return uses.findings.empty() && uses.details.empty() && uses.codes.empty();
}

void require(Context& context, const MergedDeclaration& declaration, bool there,
             std::string_view text) {
  if (there || declaration.broken) return;
  context.error(clause_missing, declaration.declaration->name.place,
                fmt::format("`{}` {}", declaration.declaration->name.text, text));
}

void check_complete(Context& context, const MergedDeclaration& declaration) {
  require(context, declaration, find_line<language::When>(declaration) != nullptr,
          "does not say when it holds; write `when ...`");
  require(context, declaration, find_line<language::Because>(declaration) != nullptr,
          "does not say why; write `because \"...\"`, it is shown wherever something is set aside");
  const bool does_something = find_line<language::SetsAside>(declaration) != nullptr ||
                              find_line<language::JudgeOnly>(declaration) != nullptr ||
                              find_line<language::NotJudged>(declaration) != nullptr;
  require(context, declaration, does_something,
          "sets nothing aside; write `sets aside ...`, `judge only ...` or `not judged ...`");
}

}  // namespace

void resolve_distrust(Context& context, const MergedDeclaration& declaration, DistrustId id) {
  Distrust& distrust = context.rules.distrusts[id.at()];
  check_complete(context, declaration);
  if (const auto* because = find_line<language::Because>(declaration)) {
    distrust.because = because->text.text;
    check_placeholders(context, because->text, std::nullopt);
  }
  for_each_line<language::When>(context, declaration, [&](const auto& line, const auto&) {
    distrust.when = resolve_condition(context, line.condition, Variables(std::nullopt));
  });
  if (distrust.when != nullptr) {
    distrust.asked_per_snapshot = can_be_asked_per_snapshot(*distrust.when);
  }
  for_each_line<language::SetsAside>(context, declaration, [&](const auto& line, const auto&) {
    add_evidence(context, line.what, distrust.sets_aside, "`sets aside`");
  });
  for_each_line<language::ExceptThese>(context, declaration, [&](const auto& line, const auto&) {
    add_evidence(context, line.what, distrust.except, "`except`");
  });
  const std::size_t left_out_before = context.rules.left_out.size();
  for_each_line<language::JudgeOnly>(context, declaration, [&](const auto& line, const auto&) {
    add_judged(context, line.what, distrust.judge_only, "`judge only`");
  });
  // An empty list would mean that all may be judged.
  if (distrust.judge_only.empty() && context.rules.left_out.size() > left_out_before) {
    context.error(
        distrust_all, distrust.header.place,
        fmt::format("all causes that `{}` lets be judged were taken out of use; revise its "
                    "`judge only` or remove it",
                    distrust.header.name));
  }
  for_each_line<language::NotJudged>(context, declaration, [&](const auto& line, const auto&) {
    add_judged(context, line.what, distrust.not_judged, "`not judged`");
  });
  for_each_line<language::Until>(context, declaration, [&](const auto& line, const auto&) {
    add_endings(context, line.what, distrust.until);
  });
}

}  // namespace slipcase::rulebase
