#include "profile/read_profile.h"

#include <fmt/core.h>

#include "facts/document_messages.h"
#include "language/parse.h"
#include "profile/build_codes.h"
#include "profile/build_procedures.h"
#include "profile/build_readings.h"
#include "profile/build_relations.h"
#include "profile/messages.h"
#include "profile/read_costs.h"
#include "profile/read_draft.h"

namespace slipcase::profile {

using facts::MapReader;
using facts::Node;

namespace {

constexpr facts::DocumentLimits profile_limits{std::size_t{1} << 20U, 12, 50'000};

using SectionReader = void (*)(const Node&, ProfileDraft&, Diagnostics&);

/// Top level keys of a profile, in the order they are written in.
class DraftReader {
 public:
  DraftReader(MapReader& map, Diagnostics& diagnostics) : map_(map), diagnostics_(diagnostics) {}

  ProfileDraft read() {
    read_name();
    text("title", draft_.title, true);
    Complete& complete = draft_.complete;
    complete.train = section("gear_train", &read_gear_train, true);
    complete.elements = section("elements", &read_elements, true);
    complete.chart = section("chart", &read_chart, true);
    section("ratios", &read_ratios, false);
    complete.shifts = section("shifts", &read_shifts, true);
    complete.scopes = section("scopes", &read_scopes, false);
    section("marks", &read_marks, false);
    section("relations", &read_relations, false);
    text("sign_note", draft_.sign_note, false);
    complete.readings = section("readings", &read_readings, false);
    draft_.turbine_speed = word("turbine_speed", false);
    draft_.output_speed = word("output_speed", false);
    section("fresh", &read_fresh, true);
    section("resets", &read_resets, false);
    draft_.own_controller = word("own_controller", true);
    complete.controllers = section("controllers", &read_controllers, true);
    section("codes", &read_codes, false);
    section("code_texts", &read_code_texts, false);
    section("fluid", &read_fluid, false);
    read_slip_noise();
    draft_.learning_temperature = window("learning_temperature");
    draft_.level_temperature = window("level_temperature");
    draft_.costs = read_costs(map_, diagnostics_);
    section("procedures", &read_procedures, false);
    map_.finish();
    return std::move(draft_);
  }

 private:
  const Node* find(std::string_view key, bool required) {
    return required ? map_.required(key) : map_.optional(key);
  }

  /// True where nothing was wrong in it.
  bool section(std::string_view key, SectionReader read_section, bool required) {
    const std::size_t errors_before = diagnostics_.error_count();
    const Node* node = find(key, required);
    if (node != nullptr) read_section(*node, draft_, diagnostics_);
    const Node* written = map_.node().find(key);
    const bool refused = written != nullptr && written->kind == facts::NodeKind::refused;
    return diagnostics_.error_count() == errors_before && !refused;
  }

  std::optional<Scalar> word(std::string_view key, bool required) {
    const Node* node = find(key, required);
    if (node == nullptr) return std::nullopt;
    return facts::read_scalar(*node, fmt::format("`{}`", key), diagnostics_);
  }

  void text(std::string_view key, std::string& into, bool required) {
    if (auto scalar = word(key, required)) into = std::move(scalar->text);
  }

  void read_name() {
    const auto name = word("profile", true);
    if (!name) return;
    draft_.name = *name;
    if (language::is_name(name->text) && !language::is_reserved(name->text)) return;
    diagnostics_.add(name_shape, name->place,
                     fmt::format("`{}` cannot be the name of a unit: small letters, digits and "
                                 "`_`, a letter first, and no word of the rule language",
                                 name->text));
  }

  std::optional<RangeDraft> window(std::string_view key) {
    const Node* node = map_.optional(key);
    if (node == nullptr) return std::nullopt;
    const auto range =
        read_range(*node, fmt::format("`{}`", key), units::temperature(), diagnostics_);
    if (range && range->low >= range->high) {
      diagnostics_.add(range_reversed, range->place, "the first of the two must be the lower one");
    }
    return range;
  }

  void read_slip_noise() {
    const Node* node = map_.optional("slip_noise");
    if (node == nullptr) return;
    draft_.slip_noise = facts::read_quantity(*node, units::of(units::Base::rotation), diagnostics_);
    if (!draft_.slip_noise || draft_.slip_noise->value > 0.0) return;
    diagnostics_.add(impossible_number, node->place, "`slip_noise` must be more than zero");
  }

  MapReader& map_;
  Diagnostics& diagnostics_;
  ProfileDraft draft_;
};

std::vector<Scalar> names_of_elements(const ProfileDraft& draft) {
  std::vector<Scalar> names;
  for (const ElementDraft& element : draft.elements) names.push_back(element.name);
  return names;
}

std::vector<Scalar> names_of_gears(const ProfileDraft& draft) {
  std::vector<Scalar> names;
  for (const ChartRow& row : draft.chart) {
    if (row.gear.text != neutral_row) names.push_back(row.gear);
  }
  return names;
}

std::optional<Window> window(const std::optional<RangeDraft>& range) {
  if (!range) return std::nullopt;
  return Window{range->low, range->high};
}

/// Looks every name up and computes what follows from chart and gear train.
class ProfileBuilder {
 public:
  ProfileBuilder(const ProfileDraft& draft, Diagnostics& diagnostics)
      : draft_(draft), vocabulary_(diagnostics), diagnostics_(diagnostics) {}

  Profile build() {
    build_scopes();
    add_computed_relations(chart_, shifts_, scopes_, vocabulary_);
    add_computed_marks(draft_, chart_, shifts_, scopes_, vocabulary_);
    add_listed_marks(draft_.marks, vocabulary_);
    add_listed_relations(draft_.relations, vocabulary_);
    profile_.readings = build_readings(draft_.readings, vocabulary_);
    build_resets();
    profile_.turbine_speed = speed(draft_.turbine_speed);
    profile_.output_speed = speed(draft_.output_speed);
    profile_.controllers =
        build_controllers(draft_.controllers, draft_.own_controller, diagnostics_);
    profile_.code_maps = build_code_maps(draft_, profile_.controllers, vocabulary_);
    profile_.code_texts = build_code_texts(draft_.code_texts, diagnostics_);
    copy_plain();
    if (shifts_complete_) {
      profile_.procedures =
          build_procedures(draft_.procedures, profile_, shifts_.kinds, vocabulary_);
    }
    profile_.vocabulary = vocabulary_.finish();
    profile_.vocabulary.unit = draft_.name.text;
    for (const ResetEvent& reset : profile_.resets) {
      profile_.vocabulary.events.push_back(reset.event);
    }
    return std::move(profile_);
  }

 private:
  void build_scopes() {
    scopes_.element =
        vocabulary_.add_scope(own_word("element"), std::nullopt, names_of_elements(draft_));
    scopes_.gear = vocabulary_.add_scope(own_word("gear"), std::nullopt, names_of_gears(draft_));
    if (!draft_.complete.elements) vocabulary_.set_incomplete(scopes_.element);
    if (!draft_.complete.chart) vocabulary_.set_incomplete(scopes_.gear);
    const bool shifts_complete = build_chart_and_shifts();
    shifts_complete_ = shifts_complete;
    scopes_.shift = vocabulary_.add_scope(own_word("shift"), std::nullopt, shifts_.names);
    if (!shifts_complete) vocabulary_.set_incomplete(scopes_.shift);
    for (const ScopeDraft& scope : draft_.scopes) {
      const ScopeId id = vocabulary_.add_scope(scope.name, scope.plural, scope.members);
      if (!draft_.complete.scopes) vocabulary_.set_incomplete(id);
    }
    vocabulary_.check_members();
    profile_.element_scope = scopes_.element;
    profile_.gear_scope = scopes_.gear;
    profile_.shift_scope = scopes_.shift;
  }

  /// True where all shifts are known.
  bool build_chart_and_shifts() {
    const Complete& complete = draft_.complete;
    if (!complete.train || !complete.elements || !complete.chart) return false;
    const std::size_t errors_before = diagnostics_.error_count();
    const auto train = build_train(draft_.train, draft_.elements, diagnostics_);
    if (!train) return false;
    chart_ = build_chart(draft_, *train, scopes_.element, vocabulary_);
    if (diagnostics_.error_count() != errors_before || !complete.shifts) return false;
    shifts_ = build_shifts(draft_, chart_, scopes_.element, vocabulary_);
    return diagnostics_.error_count() == errors_before;
  }

  void build_resets() {
    const auto add = [&](const std::vector<Scalar>& events, bool clears_only) {
      for (const Scalar& event : events) {
        vocabulary_.take(event, WordKind::event);
        profile_.resets.push_back({event.text, clears_only});
      }
    };
    add(draft_.cleared_by, true);
    add(draft_.changed_by, false);
    for (const Scalar& event : draft_.changed_by) {
      for (const Scalar& other : draft_.cleared_by) {
        if (event.text != other.text) continue;
        diagnostics_.add(named_twice, event.place,
                         fmt::format("`{}` is in `cleared_by` already", event.text));
      }
    }
  }

  std::optional<std::string> speed(const std::optional<Scalar>& name) {
    if (!draft_.complete.readings) return std::nullopt;
    return speed_reading_name(name, profile_.readings, scopes_.gear, diagnostics_);
  }

  void copy_plain() {
    profile_.name = draft_.name.text;
    profile_.title = draft_.title;
    for (const GearRow& row : chart_.gears) profile_.gears.push_back(row.gear);
    profile_.shifts = shifts_.shifts;
    if (draft_.fresh_time) profile_.fresh_time = *draft_.fresh_time;
    if (draft_.fresh_distance) profile_.fresh_distance = *draft_.fresh_distance;
    if (draft_.own_controller) profile_.own_controller = draft_.own_controller->text;
    profile_.costs = draft_.costs;
    profile_.sign_note = draft_.sign_note;
    profile_.slip_noise = draft_.slip_noise;
    if (draft_.fluid_fill && draft_.fluid_density) {
      profile_.fluid = Fluid{*draft_.fluid_fill, *draft_.fluid_density};
    }
    profile_.learning_temperature = window(draft_.learning_temperature);
    profile_.level_temperature = window(draft_.level_temperature);
  }

  const ProfileDraft& draft_;
  VocabularyBuilder vocabulary_;
  Diagnostics& diagnostics_;
  CoreScopes scopes_;
  Chart chart_;
  Shifts shifts_;
  bool shifts_complete_ = false;
  Profile profile_;
};

}  // namespace

std::optional<Profile> read_profile(const SourceSet& sources, SourceId source,
                                    Diagnostics& diagnostics) {
  Diagnostics found;
  const auto document = facts::read_document(sources, source, profile_limits, found);
  auto map = document ? MapReader::of(*document, "a unit profile", found) : std::nullopt;
  std::optional<Profile> profile;
  if (map) {
    const ProfileDraft draft = DraftReader(*map, found).read();
    profile = ProfileBuilder(draft, found).build();
  }
  const bool failed = found.has_errors();
  diagnostics.append(std::move(found));
  if (failed) return std::nullopt;
  return profile;
}

}  // namespace slipcase::profile
