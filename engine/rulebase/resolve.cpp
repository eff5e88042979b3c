#include "rulebase/resolve.h"

#include <algorithm>

#include <fmt/core.h>

#include "rulebase/context.h"
#include "rulebase/declare.h"
#include "rulebase/layers.h"
#include "rulebase/messages.h"
#include "rulebase/resolve_parts.h"
#include "rulebase/whole.h"

namespace slipcase::rulebase {

namespace {

Place start_of(const language::File& file) { return {file.source, 0, 0}; }

void check_file(const language::File& file, const UnitVocabulary& unit, Diagnostics& diagnostics) {
  if (!file.language) {
    diagnostics.add(language_missing, start_of(file),
                    "the file must begin with `language 1`, the version it is written in");
  }
  if (file.unit && file.unit->text != unit.unit) {
    diagnostics.add(other_unit, file.unit->place,
                    fmt::format("the file is for the unit `{}`, the job's unit is `{}`",
                                file.unit->text, unit.unit));
  }
}

// K3 of one kind of unit is not K3 of another, so a file that names it says which unit it is for.
void check_unit_lines(std::span<const language::File> files, const Context& context,
                      Diagnostics& diagnostics) {
  for (const language::File& file : files) {
    if (file.unit) continue;
    const auto named = context.first_member().find(file.source);
    if (named == context.first_member().end()) continue;
    diagnostics.add(unit_line_missing, named->second,
                    fmt::format("this is a member of one kind of unit; write `unit {}` below the "
                                "`language` line",
                                context.unit.unit));
  }
}

void note_layer_members(std::span<const language::File> files, Context& context) {
  for (const language::File& file : files) {
    for (const language::Declaration& declaration : file.declarations) {
      const bool layer = declaration.kind == language::DeclarationKind::extend ||
                         declaration.kind == language::DeclarationKind::revise ||
                         declaration.kind == language::DeclarationKind::remove;
      if (layer && declaration.of) context.note_member(declaration.of->place);
    }
  }
}

struct ResolveEntity {
  Context& context;
  const MergedDeclaration& declaration;

  void operator()(DetailId id) const { resolve_detail(context, declaration, id); }
  void operator()(ReadingId id) const { resolve_reading(context, declaration, id); }
  void operator()(EventId id) const { resolve_event(context, declaration, id); }
  void operator()(FindingId id) const { resolve_finding(context, declaration, id); }
  void operator()(InsideId id) const { resolve_inside(context, declaration, id); }
  void operator()(CauseId id) const { resolve_cause(context, declaration, id); }
  void operator()(DistrustId id) const { resolve_distrust(context, declaration, id); }
  void operator()(CheckId id) const {
    resolve_check(context, declaration, id);
    resolve_event(context, declaration, context.rules.checks[id.at()].event);
  }
  void operator()(AccessId id) const { resolve_access(context, declaration, id); }
  void operator()(RepairId id) const {
    resolve_repair(context, declaration, id);
    resolve_event(context, declaration, context.rules.repairs[id.at()].event);
  }
  void operator()(CautionId id) const { resolve_caution(context, declaration, id); }
  void operator()(GroupId) const {}
};

// What is measured and chosen must be known before conditions, and the numbers of findings before
// links.
bool is_plain(const Entity& entity) {
  return std::holds_alternative<DetailId>(entity) || std::holds_alternative<ReadingId>(entity);
}

void resolve_lines(Context& context, const Merged& merged,
                   const std::vector<DeclaredEntity>& declared) {
  for (const bool plain : {true, false}) {
    for (const DeclaredEntity& entry : declared) {
      if (is_plain(entry.entity) != plain) continue;
      std::visit(ResolveEntity{context, *entry.declaration}, entry.entity);
    }
  }
  for (const MergedDeclaration& declaration : merged.declarations) {
    if (declaration.uncertain) continue;
    if (declaration.declaration->kind == language::DeclarationKind::at_most_one) {
      resolve_at_most_one(context, declaration);
    }
    if (declaration.declaration->kind == language::DeclarationKind::trial) {
      resolve_trial(context, declaration);
    }
  }
}

void check_whole(Context& context) {
  check_circles(context);
  check_reached_twice(context);
  check_counts_twice(context);
  check_rates(context);
  check_something_judged(context);
}

void sort_names(Rulebase& rules) {
  std::sort(rules.names.begin(), rules.names.end(),
            [](const NamedEntity& a, const NamedEntity& b) { return a.name < b.name; });
}

}  // namespace

std::optional<Rulebase> resolve(std::span<const language::File> files, const UnitVocabulary& unit,
                                Diagnostics& diagnostics) {
  for (const language::File& file : files) check_file(file, unit, diagnostics);
  const Merged merged = merge_layers(files, unit, diagnostics);
  Context context(unit, diagnostics);
  context.rules.unit = unit;
  context.rules.changes = merged.changes;
  for (const language::File& file : files) context.lost.insert(file.lost.begin(), file.lost.end());
  note_layer_members(files, context);
  check_lines(context, merged);
  const auto declared = declare(context, merged);
  resolve_lines(context, merged, declared);
  check_trial_names(context, merged);
  check_unit_lines(files, context, diagnostics);
  check_whole(context);
  if (diagnostics.has_errors()) return std::nullopt;
  close_counts_as(context.rules);
  sort_names(context.rules);
  return std::move(context.rules);
}

}  // namespace slipcase::rulebase
