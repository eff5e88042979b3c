#include "profile/build_procedures.h"

#include <algorithm>

#include <fmt/core.h>

#include "profile/messages.h"
#include "profile/wording.h"

namespace slipcase::profile {

namespace {

using Members = std::vector<MemberId>;

std::optional<Window> window_of(const std::optional<RangeDraft>& range) {
  if (!range) return std::nullopt;
  return Window{range->low, range->high};
}

void add_once(Members& members, MemberId member) {
  if (std::ranges::find(members, member) == members.end()) members.push_back(member);
}

class ManoeuvreBuilder {
 public:
  ManoeuvreBuilder(const Profile& unit, const std::vector<ShiftKind>& kinds,
                   VocabularyBuilder& vocabulary)
      : unit_(unit), kinds_(kinds), vocabulary_(vocabulary) {}

  Manoeuvre build(const ManoeuvreDraft& draft, const std::optional<Window>& fluid) {
    Manoeuvre made;
    made.name = draft.name.text;
    made.says = draft.says;
    made.speed = window_of(draft.speed);
    made.pedal = window_of(draft.pedal);
    made.fluid = draft.fluid ? window_of(draft.fluid) : fluid;
    made.hold = draft.hold;
    made.standing = draft.standing.has_value();
    made.repeats = draft.repeats;
    made.takes = draft.takes;
    const std::size_t errors_before = vocabulary_.diagnostics().error_count();
    check_shape(draft);
    if (draft.path) add_path(*draft.path, made);
    if (draft.shifts && !draft.path) add_shifts(*draft.shifts, made);
    if (vocabulary_.diagnostics().error_count() == errors_before) add_taught(draft, made);
    return made;
  }

 private:
  void report(const Message& message, const Place& place, std::string_view text) {
    vocabulary_.diagnostics().add(message, place, text);
  }

  void check_shape(const ManoeuvreDraft& draft) {
    if (draft.path && draft.shifts) {
      report(procedure_shape, draft.name.place,
             fmt::format("`{}` has a `path` and `shifts`: a path goes through its gears in their "
                         "order, of shifts any one is enough; write one of the two",
                         draft.name.text));
    }
    const bool checked = draft.path || draft.shifts;
    if (draft.hold && !checked) {
      report(procedure_shape, *draft.hold_place,
             "`hold` is the time in the last gear of a `path` or behind a shift, and there is "
             "neither; for what only takes time write `takes`");
    }
    if (draft.standing && !draft.hold) {
      report(procedure_shape, *draft.standing,
             "`standing` says how it is held, and there is no `hold`");
    }
    if (draft.path && draft.path->size() == 1 && !draft.hold) {
      report(procedure_shape, draft.path->front().place,
             "a path of one gear is held for some time: say how long with `hold`");
    }
  }

  // --- Gears and shifts -------------------------------------------------------------------------

  [[nodiscard]] bool has_neutral() const {
    return std::ranges::any_of(unit_.shifts,
                               [](const Shift& one) { return one.from == neutral_row; });
  }

  bool is_gear(const Scalar& name) {
    if (name.text == neutral_row && has_neutral()) return true;
    return vocabulary_.member(unit_.gear_scope, name).has_value();
  }

  void add_path(const std::vector<Scalar>& path, Manoeuvre& made) {
    bool known = true;
    for (const Scalar& gear : path) {
      known = is_gear(gear) && known;
      if (std::ranges::find(made.path, gear.text) != made.path.end()) {
        report(named_twice, gear.place,
               fmt::format("gear `{}` is in this path already: make it two manoeuvres", gear.text));
        known = false;
      }
      made.path.push_back(gear.text);
    }
    if (made.path.empty()) return;
    for (std::size_t i = 1; known && i < path.size(); ++i) add_step(path[i - 1], path[i], made);
  }

  void add_step(const Scalar& from, const Scalar& to, Manoeuvre& made) {
    for (std::uint32_t i = 0; i < unit_.shifts.size(); ++i) {
      if (unit_.shifts[i].from != from.text || unit_.shifts[i].to != to.text) continue;
      made.shifts.push_back({i});
      return;
    }
    report(procedure_shift, to.place,
           fmt::format("the unit has no shift `{}-{}` by its `shifts`", from.text, to.text));
  }

  void add_shifts(const std::vector<Scalar>& names, Manoeuvre& made) {
    for (const Scalar& name : names) {
      if (const auto kind = kind_named(name.text)) {
        add_kind(*kind, made);
      } else if (const auto shift = shift_named(name.text)) {
        add_once(made.shifts, *shift);
      } else {
        report(procedure_shift, name.place,
               fmt::format("the unit has no shift `{}`{}", name.text, hint(name.text)));
      }
    }
  }

  [[nodiscard]] std::string hint(std::string_view name) const {
    std::vector<std::string> names{"upshifts", "downshifts", "engagements"};
    for (const Shift& shift : unit_.shifts) names.push_back(shift.name);
    return near_or_all(name, names);
  }

  using Kind = bool ShiftKind::*;

  static std::optional<Kind> kind_named(std::string_view name) {
    if (name == "upshifts") return &ShiftKind::up;
    if (name == "downshifts") return &ShiftKind::down;
    if (name == "engagements") return &ShiftKind::engagement;
    return std::nullopt;
  }

  void add_kind(Kind kind, Manoeuvre& made) const {
    for (std::uint32_t i = 0; i < kinds_.size(); ++i) {
      if (kinds_[i].*kind) add_once(made.shifts, {i});
    }
  }

  [[nodiscard]] std::optional<MemberId> shift_named(std::string_view name) const {
    const auto found = std::ranges::find(unit_.shifts, name, &Shift::name);
    if (found == unit_.shifts.end()) return std::nullopt;
    return MemberId{static_cast<std::uint32_t>(found - unit_.shifts.begin())};
  }

  // --- What is learnt ---------------------------------------------------------------------------

  void add_taught(const ManoeuvreDraft& draft, Manoeuvre& made) {
    Members on_coming;
    for (const MemberId shift : made.shifts) {
      for (const MemberId element : unit_.shifts[shift.at()].applies) add_once(on_coming, element);
    }
    std::ranges::sort(on_coming);
    if (!draft.teaches) {
      made.teaches = on_coming;
      return;
    }
    for (const Scalar& name : *draft.teaches) {
      const auto element = vocabulary_.member(unit_.element_scope, name);
      if (!element) continue;
      if (std::ranges::find(on_coming, *element) == on_coming.end()) {
        report_not_taught(draft, name, on_coming);
      } else {
        add_once(made.teaches, *element);
      }
    }
  }

  void report_not_taught(const ManoeuvreDraft& draft, const Scalar& name,
                         const Members& on_coming) {
    std::vector<std::string> names;
    const auto& elements = vocabulary_.vocabulary().scope(unit_.element_scope).members;
    for (const MemberId element : on_coming) names.push_back(elements[element.at()]);
    report(procedure_teaches, name.place,
           fmt::format("`{}` does not come on in `{}`, so it cannot learn there: {}", name.text,
                       draft.name.text,
                       names.empty() ? "by the chart nothing comes on"
                                     : "what comes on by the chart is " + quoted_list(names)));
  }

  const Profile& unit_;
  const std::vector<ShiftKind>& kinds_;
  VocabularyBuilder& vocabulary_;
};

void warn_of_untaught(const Procedure& made, const ProcedureDraft& draft, const Profile& unit,
                      VocabularyBuilder& vocabulary) {
  const auto& elements = vocabulary.vocabulary().scope(unit.element_scope).members;
  std::vector<std::string> untaught;
  for (std::uint32_t i = 0; i < elements.size(); ++i) {
    const bool taught = std::ranges::any_of(made.manoeuvres, [&](const Manoeuvre& one) {
      return std::ranges::find(one.teaches, MemberId{i}) != one.teaches.end();
    });
    if (!taught) untaught.push_back(elements[i]);
  }
  if (untaught.empty()) return;
  vocabulary.diagnostics().add(
      procedure_untaught, draft.name.place,
      fmt::format("no manoeuvre of `{}` teaches {}", made.name, quoted_list(untaught)));
}

Procedure build_procedure(const ProcedureDraft& draft, const Profile& unit,
                          const std::vector<ShiftKind>& kinds, VocabularyBuilder& vocabulary) {
  Procedure made;
  made.name = draft.name.text;
  made.title = draft.title;
  made.note = draft.note;
  made.fluid = draft.fluid ? window_of(draft.fluid) : unit.learning_temperature;
  made.events = draft.events;
  if (draft.steady_pedal) made.steady_pedal = *draft.steady_pedal;
  if (draft.standstill) made.standstill = *draft.standstill;
  made.before = draft.before;
  const std::size_t errors_before = vocabulary.diagnostics().error_count();
  ManoeuvreBuilder builder(unit, kinds, vocabulary);
  for (const ManoeuvreDraft& one : draft.manoeuvres) {
    made.manoeuvres.push_back(builder.build(one, made.fluid));
  }
  const bool sound = vocabulary.diagnostics().error_count() == errors_before && draft.complete;
  if (sound) warn_of_untaught(made, draft, unit, vocabulary);
  return made;
}

}  // namespace

std::vector<Procedure> build_procedures(const std::vector<ProcedureDraft>& drafts,
                                        const Profile& unit, const std::vector<ShiftKind>& kinds,
                                        VocabularyBuilder& vocabulary) {
  std::vector<Procedure> procedures;
  for (const ProcedureDraft& draft : drafts) {
    procedures.push_back(build_procedure(draft, unit, kinds, vocabulary));
  }
  return procedures;
}

}  // namespace slipcase::profile
