#include "rulebase/layers.h"

#include <algorithm>
#include <string>
#include <unordered_map>

#include <fmt/core.h>

#include "language/print.h"
#include "rulebase/clauses.h"
#include "rulebase/layer_remove.h"
#include "rulebase/messages.h"
#include "rulebase/scopes.h"
#include "support/suggest.h"

namespace slipcase::rulebase {

namespace {

using language::Clause;
using language::Declaration;
using language::DeclarationKind;
using language::File;

struct LayerDeclaration {
  const File* file;
  const Declaration* declaration;
};

bool is_layer(DeclarationKind kind) {
  return kind == DeclarationKind::extend || kind == DeclarationKind::revise ||
         kind == DeclarationKind::remove;
}

class Merger {
 public:
  Merger(const UnitVocabulary& unit, Diagnostics& diagnostics)
      : unit_(unit), diagnostics_(diagnostics), remover_(unit, merged_.shortened, diagnostics) {}

  Merged merge(std::span<const File> files) {
    for (const File& file : files) take(file);
    // All extensions come before all revisions, and those for every member before those for one, so
    // that the order of files never changes what comes out.
    for (const auto& layer : of_kind(DeclarationKind::extend)) extend(layer);
    for (const auto& layer : of_kind(DeclarationKind::revise)) {
      if (!layer.declaration->of) revise(layer);
    }
    for (const auto& layer : of_kind(DeclarationKind::revise)) {
      if (layer.declaration->of) revise(layer);
    }
    for (const bool for_one : {false, true}) {
      for (const auto& layer : of_kind(DeclarationKind::remove)) {
        if (layer.declaration->of.has_value() == for_one) remove(layer);
      }
    }
    return std::move(merged_);
  }

 private:
  void take(const File& file) {
    for (const Declaration& declaration : file.declarations) {
      if (is_layer(declaration.kind)) {
        layers_.push_back({&file, &declaration});
      } else {
        take(file, declaration);
      }
    }
  }

  void take(const File& file, const Declaration& declaration) {
    MergedDeclaration merged;
    merged.declaration = &declaration;
    merged.file = &file;
    merged.broken = declaration.broken;
    merged.uncertain = declaration.header_broken;
    if (declaration.of) {
      merged.scope = find_scope(unit_, *declaration.of, diagnostics_);
      if (!merged.scope) merged.uncertain = true;
    }
    for (const Clause& clause : declaration.clauses) {
      merged.clauses.push_back({&clause, file.origin, {}, {}, {}});
    }
    const bool has_name = declaration.kind != DeclarationKind::trial &&
                          declaration.kind != DeclarationKind::at_most_one;
    if (has_name) index_.try_emplace(declaration.name.text, merged_.declarations.size());
    merged_.declarations.push_back(std::move(merged));
  }

  std::vector<LayerDeclaration> of_kind(DeclarationKind kind) const {
    std::vector<LayerDeclaration> found;
    std::copy_if(layers_.begin(), layers_.end(), std::back_inserter(found),
                 [kind](const LayerDeclaration& l) { return l.declaration->kind == kind; });
    return found;
  }

  // The declaration that a layer is about, and the member; reports what does not exist.
  MergedDeclaration* target(const LayerDeclaration& layer, OnlyFor& member) {
    const Declaration& declaration = *layer.declaration;
    if (declaration.name.text.empty()) return nullptr;  // the parser has said why
    const auto found = index_.find(declaration.name.text);
    if (found == index_.end()) {
      diagnostics_.add(
          unknown_name, declaration.name.place,
          fmt::format("there is no declaration `{}` to {}{}", declaration.name.text,
                      word(declaration.kind), did_you_mean(declaration.name.text, all_names())));
      return nullptr;
    }
    MergedDeclaration& base = merged_.declarations[found->second];
    if (!declaration.of) return &base;
    if (!base.scope) {
      if (!base.uncertain) {
        diagnostics_.add(no_members, declaration.of->place,
                         fmt::format("`{}` has no members: it stands once for the whole unit",
                                     declaration.name.text));
      }
      return nullptr;
    }
    member = find_member(unit_, *base.scope, *declaration.of, diagnostics_);
    return member ? &base : nullptr;
  }

  static std::string_view word(DeclarationKind kind) {
    if (kind == DeclarationKind::extend) return "extend";
    return kind == DeclarationKind::revise ? "revise" : "remove";
  }

  std::vector<std::string> all_names() const {
    std::vector<std::string> names;
    for (const MergedDeclaration& declaration : merged_.declarations) {
      names.push_back(declaration.declaration->name.text);
    }
    return names;
  }

  LayerChange& note_change(const LayerDeclaration& layer, const OnlyFor& member) {
    const Declaration& declaration = *layer.declaration;
    LayerChange change;
    change.kind = declaration.kind == DeclarationKind::extend   ? LayerChange::Kind::extend
                  : declaration.kind == DeclarationKind::revise ? LayerChange::Kind::revise
                                                                : LayerChange::Kind::remove;
    change.name = declaration.name.text;
    change.member = member;
    change.place = declaration.place;
    for (const Clause& clause : declaration.clauses) {
      if (const auto* by = std::get_if<language::By>(&clause.body)) change.by = by->initials.text;
      if (const auto* dated = std::get_if<language::Dated>(&clause.body)) {
        change.dated = units::Date::parse(dated->date.text);
      }
      if (const auto* note = std::get_if<language::NoteLine>(&clause.body)) {
        change.note = note->text.text;
      }
    }
    merged_.changes.push_back(std::move(change));
    return merged_.changes.back();
  }

  static bool says_nothing(const Declaration& layer) {
    return std::all_of(layer.clauses.begin(), layer.clauses.end(), is_about_layer);
  }

  void warn_of_no_lines(const LayerDeclaration& layer) {
    const Declaration& declaration = *layer.declaration;
    if (declaration.broken || !says_nothing(declaration)) return;
    diagnostics_.add(layer_says_nothing, declaration.place,
                     fmt::format("this `{}` has no line, so it changes nothing of `{}`",
                                 word(declaration.kind), declaration.name.text));
  }

  // A line of a layer must be one that the declaration can have, and have for one member if so
  // said.
  bool fits(const Clause& clause, const MergedDeclaration& base, const OnlyFor& member) {
    if (!belongs_in(clause, base.declaration->kind)) {
      diagnostics_.add(clause_not_here, clause.first_word.place,
                       fmt::format("`{}` is {}; {}", base.declaration->name.text,
                                   with_article(base.declaration->kind),
                                   hint_for(clause, base.declaration->kind)));
      return false;
    }
    if (!member || can_be_for_one_member(clause)) return true;
    diagnostics_.add(
        not_for_one_member, clause.first_word.place,
        fmt::format("`{}` holds for every {} alike; leave `of {}` out", clause.first_word.text,
                    unit_.scope(*base.scope).name, unit_.scope(*base.scope).members[member->at()]));
    return false;
  }

  void extend(const LayerDeclaration& layer) {
    OnlyFor member;
    MergedDeclaration* base = target(layer, member);
    if (base == nullptr) return;
    note_change(layer, member);
    warn_of_no_lines(layer);
    base->broken = base->broken || layer.declaration->broken;
    for (const Clause& clause : layer.declaration->clauses) {
      if (is_about_layer(clause) || !fits(clause, *base, member)) continue;
      if (is_new(clause, *base, member)) {
        base->clauses.push_back({&clause, layer.file->origin, member, {}, {}});
      }
    }
  }

  bool is_new(const Clause& clause, const MergedDeclaration& base, const OnlyFor& member) {
    const std::vector<std::string> entries = entries_of(clause);
    for (const MergedClause& old : base.clauses) {
      if (old.clause->body.index() != clause.body.index()) continue;
      if (is_list(clause)) {
        if (!shares_entry(entries, clause, *old.clause)) continue;
        return false;
      }
      // What is said for all may be said again for one member, where a member's own line counts.
      const bool for_one_over_all = member && !old.only_for && is_single(clause);
      if (for_one_over_all || old.only_for != member || !same_line(*old.clause, clause)) continue;
      refuse_again(clause, *old.clause, first_line(clause), "to change it write `revise`");
      return false;
    }
    return true;
  }

  bool shares_entry(const std::vector<std::string>& entries, const Clause& clause,
                    const Clause& old) {
    const std::vector<std::string> before = entries_of(old);
    for (const std::string& entry : entries) {
      if (std::find(before.begin(), before.end(), entry) == before.end()) continue;
      refuse_again(clause, old, clause.first_word.text + " " + entry,
                   "leave it out here; to replace the whole list write `revise`");
      return true;
    }
    return false;
  }

  void refuse_again(const Clause& clause, const Clause& old, const std::string& what,
                    std::string_view hint) {
    auto& diagnostic = diagnostics_.add(already_there, clause.place,
                                        fmt::format("`{}` is there already; {}", what, hint));
    diagnostic.notes.push_back({old.place, "it is here"});
  }

  void revise(const LayerDeclaration& layer) {
    OnlyFor member;
    MergedDeclaration* base = target(layer, member);
    if (base == nullptr) return;
    LayerChange& change = note_change(layer, member);
    warn_of_no_lines(layer);
    base->broken = base->broken || layer.declaration->broken;
    for (const Clause& clause : layer.declaration->clauses) {
      if (is_about_layer(clause) || !fits(clause, *base, member)) continue;
      revise_line(clause, layer, *base, member, change);
    }
  }

  void revise_line(const Clause& clause, const LayerDeclaration& layer, MergedDeclaration& base,
                   const OnlyFor& member, LayerChange& change) {
    const auto at = find_line(clause, base, member);
    if (!at) return;
    MergedClause& old = base.clauses[*at];
    const Clause& old_clause = *old.clause;
    if (is_revised(old, member)) {
      auto& diagnostic = diagnostics_.add(
          revised_twice, clause.place,
          fmt::format("`{}` is revised twice; keep one of the two", first_line(clause)));
      diagnostic.notes.push_back({old_clause.place, "it is revised here already"});
      return;
    }
    change.replaced.push_back({old_clause.place, clause.place});
    if (member && !old.only_for) {
      old.not_for.push_back(*member);
      base.clauses.push_back({&clause, layer.file->origin, member, {}, {}});
    } else {
      replace(base, *at, clause, layer.file->origin);
    }
    revised_.push_back({&clause, member});
  }

  // A list is one line, however many lines it is written on.
  static void replace(MergedDeclaration& base, std::size_t at, const Clause& clause,
                      Origin origin) {
    const std::size_t kind = clause.body.index();
    base.clauses[at].clause = &clause;
    base.clauses[at].origin = origin;
    if (!is_list(clause)) return;
    const auto is_old_part = [&](const MergedClause& c) {
      return c.clause != &clause && c.clause->body.index() == kind;
    };
    base.clauses.erase(std::remove_if(base.clauses.begin(), base.clauses.end(), is_old_part),
                       base.clauses.end());
  }

  bool is_revised(const MergedClause& line, const OnlyFor& member) const {
    return std::any_of(revised_.begin(), revised_.end(), [&](const Revised& r) {
      return r.clause == line.clause && r.member == member;
    });
  }

  // The line with the same first word and target. A `becomes` or a restriction is about its
  // condition; where there is only one of them, it is meant, so that its condition can be changed
  // too.
  std::optional<std::size_t> find_line(const Clause& clause, const MergedDeclaration& base,
                                       const OnlyFor& member) {
    std::vector<std::size_t> same_word;
    std::vector<std::size_t> same;
    for (std::size_t i = 0; i < base.clauses.size(); ++i) {
      const MergedClause& old = base.clauses[i];
      const bool for_this = !old.only_for || old.only_for == member;
      if (old.clause->body.index() != clause.body.index() || !for_this) continue;
      if (!member && old.only_for) continue;
      same_word.push_back(i);
      if (is_list(clause) || same_line(*old.clause, clause)) same.push_back(i);
    }
    const bool about_condition = std::holds_alternative<language::Becomes>(clause.body) ||
                                 std::holds_alternative<language::NeverWhen>(clause.body) ||
                                 std::holds_alternative<language::PossibleOnly>(clause.body);
    if (same.empty() && about_condition && same_word.size() == 1) return same_word.front();
    // A member's own line stands behind the one for all and is the one that holds.
    if (!same.empty()) return is_list(clause) ? same.front() : same.back();
    report_nothing_to_revise(clause, base);
    return std::nullopt;
  }

  void report_nothing_to_revise(const Clause& clause, const MergedDeclaration& base) {
    if (base.broken) return;
    auto& diagnostic =
        diagnostics_.add(revise_finds_nothing, clause.place,
                         fmt::format("`{}` has no line `{}` to revise; to add one write `extend`",
                                     base.declaration->name.text, first_line(clause)));
    note_lines_there(diagnostic, unit_, base, clause);
  }

  void remove(const LayerDeclaration& layer) {
    OnlyFor member;
    MergedDeclaration* base = target(layer, member);
    if (base == nullptr) return;
    const bool whole = says_nothing(*layer.declaration);
    if (whole && layer.declaration->broken) return;  // a line of it was meant
    LayerChange& change = note_change(layer, member);
    if (whole) return remover_.remove_whole(*base, *layer.declaration, member);
    for (const Clause& clause : layer.declaration->clauses) {
      if (is_about_layer(clause) || !fits(clause, *base, member)) continue;
      remover_.remove_line(*base, clause, member, change);
    }
  }

  struct Revised {
    const Clause* clause;
    OnlyFor member;
  };

  const UnitVocabulary& unit_;
  Diagnostics& diagnostics_;
  Merged merged_;
  LineRemover remover_;
  std::vector<LayerDeclaration> layers_;
  std::unordered_map<std::string_view, std::size_t> index_;
  std::vector<Revised> revised_;
};

}  // namespace

Merged merge_layers(std::span<const File> files, const UnitVocabulary& unit,
                    Diagnostics& diagnostics) {
  return Merger(unit, diagnostics).merge(files);
}

}  // namespace slipcase::rulebase
