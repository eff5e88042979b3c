#include "profile/build_relations.h"

#include <algorithm>

namespace slipcase::profile {

namespace {

// An element slips first where it carries most. Three quarters of its largest share separates the
// gears in which a weak element shows from those in which it still holds.
constexpr double straining_share = 0.75;

Holds nothing_holds(std::size_t subjects, std::size_t objects) {
  return Holds(subjects, std::vector<bool>(objects, false));
}

RelationWords words(std::string_view word, std::string_view inverse) {
  return {own_word(word), own_word(inverse), std::nullopt};
}

Holds shift_holds(const std::vector<Shift>& shifts, std::vector<MemberId> Shift::*elements,
                  std::size_t element_count) {
  Holds holds = nothing_holds(shifts.size(), element_count);
  for (std::size_t shift = 0; shift < shifts.size(); ++shift) {
    for (const MemberId element : shifts[shift].*elements) holds[shift][element.at()] = true;
  }
  return holds;
}

Holds shift_ends(const std::vector<Shift>& shifts, std::string Shift::*end,
                 const std::vector<GearRow>& gears) {
  Holds holds = nothing_holds(shifts.size(), gears.size());
  for (std::size_t shift = 0; shift < shifts.size(); ++shift) {
    for (std::size_t gear = 0; gear < gears.size(); ++gear) {
      holds[shift][gear] = shifts[shift].*end == gears[gear].gear.name;
    }
  }
  return holds;
}

struct GearRelations {
  Holds uses;
  Holds strains;
  Holds eases;
};

GearRelations gear_relations(const std::vector<GearRow>& gears, std::size_t element_count) {
  GearRelations result{nothing_holds(gears.size(), element_count),
                       nothing_holds(gears.size(), element_count),
                       nothing_holds(gears.size(), element_count)};
  std::vector<double> largest(element_count, 0.0);
  for (const GearRow& row : gears) {
    for (std::size_t element = 0; element < element_count; ++element) {
      largest[element] = std::max(largest[element], row.gear.torque_share[element]);
    }
  }
  for (std::size_t gear = 0; gear < gears.size(); ++gear) {
    for (const MemberId element : gears[gear].gear.elements) {
      const double share = gears[gear].gear.torque_share[element.at()];
      const bool strains = share > 0.0 && share >= straining_share * largest[element.at()];
      result.uses[gear][element.at()] = true;
      result.strains[gear][element.at()] = strains;
      result.eases[gear][element.at()] = !strains;
    }
  }
  return result;
}

template <class List, class Test>
std::vector<bool> each(const List& list, const Test& test) {
  std::vector<bool> on;
  for (const auto& one : list) on.push_back(test(one));
  return on;
}

}  // namespace

void add_computed_marks(const ProfileDraft& draft, const Chart& chart, const Shifts& shifts,
                        const CoreScopes& scopes, VocabularyBuilder& vocabulary) {
  const auto element = [&](std::string_view mark, const auto& test) {
    vocabulary.add_mark(scopes.element, own_word(mark), each(draft.elements, test));
  };
  element("rotating", [](const ElementDraft& one) { return one.second.has_value(); });
  element("case_fixed", [](const ElementDraft& one) { return !one.second.has_value(); });
  element("one_way_clutched", [](const ElementDraft& one) { return one.one_way_clutch; });

  const auto gear = [&](std::string_view mark, const auto& test) {
    vocabulary.add_mark(scopes.gear, own_word(mark), each(chart.gears, test));
  };
  gear("forward", [](const GearRow& one) { return one.gear.ratio > 0.0; });
  gear("reverse", [](const GearRow& one) { return one.gear.ratio < 0.0; });

  const auto shift = [&](std::string_view mark, bool ShiftKind::*kind) {
    vocabulary.add_mark(scopes.shift, own_word(mark),
                        each(shifts.kinds, [&](const ShiftKind& one) { return one.*kind; }));
  };
  shift("upshift", &ShiftKind::up);
  shift("downshift", &ShiftKind::down);
  shift("engagement", &ShiftKind::engagement);
  shift("skipping", &ShiftKind::skips_a_gear);
}

void add_computed_relations(const Chart& chart, const Shifts& shifts, const CoreScopes& scopes,
                            VocabularyBuilder& vocabulary) {
  const std::size_t elements = vocabulary.vocabulary().scope(scopes.element).members.size();
  const auto shift_element = [&](const RelationWords& both, std::vector<MemberId> Shift::*list) {
    vocabulary.add_relation(scopes.shift, scopes.element, both,
                            shift_holds(shifts.shifts, list, elements));
  };
  shift_element(words("applying", "applied_by"), &Shift::applies);
  shift_element(words("releasing", "released_by"), &Shift::releases);
  shift_element(words("holding", "held_by"), &Shift::holds);

  const GearRelations gears = gear_relations(chart.gears, elements);
  vocabulary.add_relation(scopes.gear, scopes.element,
                          {own_word("using"), own_word("used_by"),
                           std::pair(own_word("without"), own_word("unused_by"))},
                          gears.uses);
  vocabulary.add_relation(scopes.gear, scopes.element, words("straining", "strained_by"),
                          gears.strains);
  vocabulary.add_relation(scopes.gear, scopes.element, words("easing", "eased_by"), gears.eases);

  const auto shift_gear = [&](const RelationWords& both, std::string Shift::*end) {
    vocabulary.add_relation(scopes.shift, scopes.gear, both,
                            shift_ends(shifts.shifts, end, chart.gears));
  };
  shift_gear(words("entering", "entered_by"), &Shift::to);
  shift_gear(words("leaving", "left_by"), &Shift::from);
}

void add_listed_marks(const std::vector<MarkDraft>& marks, VocabularyBuilder& vocabulary) {
  for (const MarkDraft& mark : marks) {
    const std::optional<ScopeId> scope = vocabulary.scope(mark.scope);
    if (!scope) continue;
    std::vector<bool> on(vocabulary.vocabulary().scope(*scope).members.size(), false);
    for (const MemberId member : vocabulary.members(*scope, mark.members)) on[member.at()] = true;
    vocabulary.add_mark(*scope, mark.name, std::move(on));
  }
}

void add_listed_relations(const std::vector<RelationDraft>& relations,
                          VocabularyBuilder& vocabulary) {
  for (const RelationDraft& relation : relations) {
    const std::optional<ScopeId> subject = vocabulary.scope(relation.subject);
    const std::optional<ScopeId> object = vocabulary.scope(relation.object);
    if (!subject || !object) continue;
    const auto count = [&](ScopeId scope) {
      return vocabulary.vocabulary().scope(scope).members.size();
    };
    Holds holds = nothing_holds(count(*subject), count(*object));
    for (const auto& [one, others] : relation.pairs) {
      const std::optional<MemberId> from = vocabulary.member(*subject, one);
      for (const MemberId to : vocabulary.members(*object, others)) {
        if (from) holds[from->at()][to.at()] = true;
      }
    }
    vocabulary.add_relation(*subject, *object, {relation.word, relation.inverse, relation.negative},
                            holds);
  }
}

}  // namespace slipcase::profile
