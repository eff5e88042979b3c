#include "rulebase/declare.h"

#include <algorithm>

#include <fmt/core.h>

#include "rulebase/lines.h"
#include "rulebase/messages.h"
#include "rulebase/scopes.h"
#include "rulebase/values.h"

namespace slipcase::rulebase {

namespace {

using language::DeclarationKind;

std::optional<Kind> kind_of(DeclarationKind kind) {
  switch (kind) {
    case DeclarationKind::detail:
      return Kind::detail;
    case DeclarationKind::reading:
      return Kind::reading;
    case DeclarationKind::event:
      return Kind::event;
    case DeclarationKind::finding:
      return Kind::finding;
    case DeclarationKind::inside:
      return Kind::inside;
    case DeclarationKind::cause:
      return Kind::cause;
    case DeclarationKind::distrust:
      return Kind::distrust;
    case DeclarationKind::check:
      return Kind::check;
    case DeclarationKind::access:
      return Kind::access;
    case DeclarationKind::repair:
      return Kind::repair;
    case DeclarationKind::caution:
      return Kind::caution;
    case DeclarationKind::at_most_one:
    case DeclarationKind::trial:
    case DeclarationKind::extend:
    case DeclarationKind::revise:
    case DeclarationKind::remove:
      break;
  }
  return std::nullopt;
}

template <class IdType, class List>
IdType next_id(const List& list) {
  return IdType{static_cast<std::uint32_t>(list.size())};
}

class Declarer {
 public:
  explicit Declarer(Context& context) : context_(context), rules_(context.rules) {}

  std::vector<DeclaredEntity> run(const Merged& merged) {
    for (const MergedDeclaration& declaration : merged.declarations) {
      if (const auto kind = kind_of(declaration.declaration->kind)) add(declaration, *kind);
    }
    for (const MergedDeclaration& declaration : merged.declarations) add_groups(declaration);
    return std::move(declared_);
  }

 private:
  void add(const MergedDeclaration& merged, Kind kind) {
    const language::Word& name = merged.declaration->name;
    if (name.text.empty() || !is_free(name)) return;
    if (merged.declaration->of && !may_have_scope(kind)) {
      context_.error(no_members, merged.declaration->of->place,
                     fmt::format("{} stands once for the whole unit; leave `of {}` out",
                                 with_article(kind), merged.declaration->of->text));
    }
    Symbol symbol;
    symbol.name = name.text;
    symbol.kind = kind;
    symbol.scope = merged.scope;
    symbol.place = name.place;
    symbol.removed = merged.removed;
    symbol.removed_for = merged.removed_for;
    symbol.uncertain = merged.uncertain;
    if (const Symbol* other = context_.names.find(name.text)) {
      report_taken(name, *other);
      return;
    }
    if (merged.removed || merged.uncertain) {
      fill_removed(symbol, kind, merged);
    } else {
      const Header header = header_of(merged);
      make(symbol, header, merged);
      declared_.push_back({&merged, symbol.entity});
      rules_.names.push_back({header.name, symbol.entity});
    }
    context_.names.add(symbol);
  }

  static bool may_have_scope(Kind kind) {
    return kind != Kind::distrust && kind != Kind::access && kind != Kind::caution;
  }

  bool is_free(const language::Word& name) {
    if (is_function(name.text)) {
      context_.error(
          function_name, name.place,
          fmt::format("`{0}` is a function of values, as in `{0} of ...`; choose another "
                      "name",
                      name.text));
      return false;
    }
    if (context_.unit.find_scope(name.text)) {
      context_.error(
          function_name, name.place,
          fmt::format("`{}` is a word of the unit's profile; choose another name", name.text));
      return false;
    }
    return true;
  }

  void report_taken(const language::Word& name, const Symbol& other) {
    auto& diagnostic = context_.error(
        already_there, name.place,
        fmt::format("`{}` is there already, {}; to change a line of it write `revise`, to add one "
                    "`extend`, for another thing choose another name",
                    name.text, with_article(other.kind)));
    diagnostic.notes.push_back({other.place, "it is declared here"});
  }

  Header header_of(const MergedDeclaration& merged) {
    Header header;
    header.name = merged.declaration->name.text;
    header.scope = merged.scope;
    header.place = merged.declaration->name.place;
    header.says = header.name;
    for (const auto& [member, place] : merged.removed_for) header.out_of_use.push_back(member);
    if (const auto* says = find_line<language::Says>(merged)) {
      header.says = says->text.text;
      check_placeholders(context_, says->text, merged.scope);
    }
    if (const auto* source = find_line<language::SourceLine>(merged)) {
      header.source = source->text.text;
    }
    return header;
  }

  // A line that names it is known to have meant the right kind of thing.
  static void fill_removed(Symbol& symbol, Kind kind, const MergedDeclaration& merged) {
    const bool flags = find_line<language::Flags>(merged) != nullptr;
    if (kind == Kind::finding || (kind == Kind::check && flags)) symbol.finding = FindingId{};
    if (kind == Kind::event || kind == Kind::check || kind == Kind::repair)
      symbol.event = EventId{};
  }

  template <class IdType, class Item>
  void push(Symbol& symbol, std::vector<Item>& list, Item item) {
    symbol.entity = next_id<IdType>(list);
    list.push_back(std::move(item));
  }

  void make(Symbol& symbol, const Header& header, const MergedDeclaration& merged) {
    switch (symbol.kind) {
      case Kind::detail:
        return make_detail(symbol, header);
      case Kind::reading:
        return push<ReadingId>(symbol, rules_.readings, Reading{header, {}});
      case Kind::event:
        return make_event(symbol, header);
      case Kind::finding:
        return make_finding(symbol, header, merged);
      case Kind::inside:
        return push<InsideId>(symbol, rules_.insides, Inside{header, {}, {}});
      case Kind::cause:
        return make_cause(symbol, header);
      case Kind::distrust:
        return make_distrust(symbol, header);
      case Kind::check:
        return make_check(symbol, header, merged);
      case Kind::access:
        return make_access(symbol, header);
      case Kind::repair:
        return make_repair(symbol, header);
      case Kind::caution:
        return push<CautionId>(symbol, rules_.cautions, Caution{header});
      case Kind::group:
        return;
    }
  }

  void make_detail(Symbol& symbol, const Header& header) {
    Detail detail;
    detail.header = header;
    detail.type = Detail::Type::yes_no;
    push<DetailId>(symbol, rules_.details, std::move(detail));
  }

  void make_cause(Symbol& symbol, const Header& header) {
    Cause cause;
    cause.header = header;
    push<CauseId>(symbol, rules_.causes, std::move(cause));
  }

  void make_distrust(Symbol& symbol, const Header& header) {
    Distrust distrust;
    distrust.header = header;
    push<DistrustId>(symbol, rules_.distrusts, std::move(distrust));
  }

  void make_access(Symbol& symbol, const Header& header) {
    Access access;
    access.header = header;
    push<AccessId>(symbol, rules_.accesses, std::move(access));
  }

  EventId add_event(const Header& header) {
    Event event;
    event.header = header;
    const auto id = next_id<EventId>(rules_.events);
    rules_.events.push_back(std::move(event));
    return id;
  }

  void make_event(Symbol& symbol, const Header& header) {
    symbol.event = add_event(header);
    symbol.entity = *symbol.event;
  }

  FindingId add_finding(const Header& header) {
    Finding finding;
    finding.header = header;
    const auto id = next_id<FindingId>(rules_.findings);
    rules_.findings.push_back(std::move(finding));
    return id;
  }

  // The names of the grades are needed before any count of the finding is read.
  void make_finding(Symbol& symbol, const Header& header, const MergedDeclaration& merged) {
    symbol.finding = add_finding(header);
    symbol.entity = *symbol.finding;
    for (const MergedClause& line : merged.clauses) {
      const auto* grade = std::get_if<language::Grade>(&line.clause->body);
      if (grade == nullptr) continue;
      auto& grades = rules_.findings[symbol.finding->at()].grades;
      const bool again = std::any_of(grades.begin(), grades.end(), [&](const GradeLine& known) {
        return known.name == grade->name.text;
      });
      if (again) {
        context_.error(named_twice, grade->name.place,
                       fmt::format("`{}` is a grade already", grade->name.text));
      } else {
        grades.push_back({grade->name.text, std::nullopt, line.clause->place});
      }
    }
  }

  void make_check(Symbol& symbol, const Header& header, const MergedDeclaration& merged) {
    const auto id = next_id<CheckId>(rules_.checks);
    Check check;
    check.header = header;
    check.event = add_event(header);
    rules_.events[check.event.at()].done_by = id;
    symbol.event = check.event;
    if (find_line<language::Flags>(merged) != nullptr) {
      check.finding = add_finding(header);
      rules_.findings[check.finding->at()].result_of_check = id;
      symbol.finding = check.finding;
    }
    push<CheckId>(symbol, rules_.checks, std::move(check));
  }

  void make_repair(Symbol& symbol, const Header& header) {
    Repair repair;
    repair.header = header;
    repair.event = add_event(header);
    rules_.events[repair.event.at()].done_by = next_id<RepairId>(rules_.repairs);
    symbol.event = repair.event;
    push<RepairId>(symbol, rules_.repairs, std::move(repair));
  }

  // A group is there because a cause says that it belongs to it.
  void add_groups(const MergedDeclaration& merged) {
    if (merged.declaration->kind != DeclarationKind::cause || merged.removed) return;
    const auto* line = find_line<language::Group>(merged);
    if (line == nullptr) return;
    const Symbol* known = context_.names.find(line->name.text);
    if (known != nullptr && known->kind == Kind::group) return;
    if (known != nullptr) {
      auto& diagnostic =
          context_.error(already_there, line->name.place,
                         fmt::format("`{}` is {} already; a group needs a name of its own",
                                     line->name.text, with_article(known->kind)));
      diagnostic.notes.push_back({known->place, "it is declared here"});
      return;
    }
    Symbol symbol;
    symbol.name = line->name.text;
    symbol.kind = Kind::group;
    symbol.place = line->name.place;
    symbol.entity = next_id<GroupId>(rules_.groups);
    rules_.groups.push_back({line->name.text});
    rules_.names.push_back({line->name.text, symbol.entity});
    context_.names.add(symbol);
  }

  Context& context_;
  Rulebase& rules_;
  std::vector<DeclaredEntity> declared_;
};

}  // namespace

std::vector<DeclaredEntity> declare(Context& context, const Merged& merged) {
  return Declarer(context).run(merged);
}

}  // namespace slipcase::rulebase
