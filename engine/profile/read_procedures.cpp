// Learning procedures of a profile's document to drafts.
#include <fmt/core.h>

#include "facts/document_messages.h"
#include "language/parse.h"
#include "profile/messages.h"
#include "profile/read_draft.h"

namespace slipcase::profile {

using facts::MapReader;
using facts::Node;

namespace {

constexpr std::uint64_t most_times = 100;
constexpr double longest_hold = 24.0 * 3'600'000.0;  // ms

bool is_manoeuvre_name(const Scalar& name, std::string_view what, Diagnostics& diagnostics) {
  if (language::is_name(name.text)) return true;
  diagnostics.add(name_shape, name.place,
                  fmt::format("`{}` cannot be the name of a {}: small letters, digits and `_`, a "
                              "letter first",
                              name.text, what));
  return false;
}

/// The keys of one map that procedures and manoeuvres share the kinds of.
class ProcedureKeys {
 public:
  ProcedureKeys(MapReader& map, Diagnostics& diagnostics) : map_(map), diagnostics_(diagnostics) {}

  std::string text(std::string_view key, bool required) {
    auto text = word(key, required);
    return text ? std::move(text->text) : std::string();
  }

  std::optional<Scalar> word(std::string_view key, bool required) {
    const Node* node = required ? map_.required(key) : map_.optional(key);
    if (node == nullptr) return std::nullopt;
    return facts::read_scalar(*node, fmt::format("`{}`", key), diagnostics_);
  }

  std::optional<std::vector<Scalar>> names(std::string_view key) {
    const Node* node = map_.optional(key);
    if (node == nullptr) return std::nullopt;
    return names_of(*node, fmt::format("`{}`", key), diagnostics_);
  }

  std::optional<RangeDraft> range(std::string_view key, const units::Dimension& dimension,
                                  double least) {
    const Node* node = map_.optional(key);
    if (node == nullptr) return std::nullopt;
    const auto range = read_range(*node, fmt::format("`{}`", key), dimension, diagnostics_);
    if (range && range->low >= range->high) {
      diagnostics_.add(range_reversed, range->place, "the first of the two must be the lower one");
    } else if (range && range->low < least) {
      diagnostics_.add(impossible_number, range->place,
                       fmt::format("`{}` cannot be less than nothing", key));
    }
    return range;
  }

  std::optional<double> amount(std::string_view key, const units::Dimension& dimension,
                               double most) {
    const Node* node = map_.optional(key);
    if (node == nullptr) return std::nullopt;
    const auto amount = facts::read_quantity(*node, dimension, diagnostics_);
    if (!amount) return std::nullopt;
    if (amount->value > 0.0 && amount->value <= most) return amount->value;
    diagnostics_.add(impossible_number, node->place,
                     fmt::format("`{}` must be more than zero, and at most {}", key,
                                 units::to_text({most, dimension})));
    return std::nullopt;
  }

  std::uint32_t times(std::string_view key, bool required) {
    const Node* node = required ? map_.required(key) : map_.optional(key);
    if (node == nullptr) return 1;
    const auto count = facts::read_whole_number(*node, diagnostics_);
    if (count && *count > 0 && *count <= most_times) return static_cast<std::uint32_t>(*count);
    if (count) {
      diagnostics_.add(impossible_number, node->place,
                       fmt::format("`{}` is a number from 1 to {}", key, most_times));
    }
    return 1;
  }

  std::optional<Place> yes(std::string_view key) {
    const Node* node = map_.optional(key);
    if (node == nullptr) return std::nullopt;
    const auto said = facts::read_yes_no(*node, fmt::format("`{}`", key), diagnostics_);
    return said.value_or(false) ? std::optional(node->place) : std::nullopt;
  }

  [[nodiscard]] const Node* node(std::string_view key) { return map_.optional(key); }

 private:
  MapReader& map_;
  Diagnostics& diagnostics_;
};

std::optional<ManoeuvreDraft> read_manoeuvre(const Scalar& name, const Node& node,
                                             Diagnostics& diagnostics) {
  auto map = MapReader::of(node, fmt::format("`{}`", name.text), diagnostics);
  if (!map || !is_manoeuvre_name(name, "manoeuvre", diagnostics)) return std::nullopt;
  ProcedureKeys keys(*map, diagnostics);
  ManoeuvreDraft draft;
  draft.name = name;
  draft.says = keys.text("says", true);
  draft.path = keys.names("path");
  draft.shifts = keys.names("shifts");
  draft.speed = keys.range("speed", units::speed(), 0.0);
  draft.pedal = keys.range("pedal", units::plain_number(), 0.0);
  draft.fluid = keys.range("fluid", units::temperature(), -273.15);
  draft.hold = keys.amount("hold", units::of(units::Base::duration), longest_hold);
  if (const Node* hold = keys.node("hold")) draft.hold_place = hold->place;
  draft.standing = keys.yes("standing");
  draft.repeats = keys.times("repeats", false);
  draft.takes = keys.amount("takes", units::of(units::Base::duration), longest_hold);
  draft.teaches = keys.names("teaches");
  map->finish();
  return draft;
}

void read_before(const Node& node, ProcedureNames& names, Diagnostics& diagnostics) {
  auto map = MapReader::of(node, "`before`", diagnostics);
  if (!map) return;
  ProcedureKeys keys(*map, diagnostics);
  names.codes_cleared = keys.word("codes_cleared", false);
  names.level_checked = keys.word("level_checked", false);
  if (auto wrong = keys.names("level_wrong")) names.level_wrong = std::move(*wrong);
  map->finish();
}

void read_manoeuvres(MapReader& map, ProcedureDraft& draft, Diagnostics& diagnostics) {
  const Node* node = map.required("manoeuvres");
  if (node == nullptr) return;
  for (const auto& [name, value] :
       entries_of(*node, "`manoeuvres`", most_manoeuvres, diagnostics)) {
    if (auto manoeuvre = read_manoeuvre(name, *value, diagnostics))
      draft.manoeuvres.push_back(std::move(*manoeuvre));
  }
}

std::optional<ProcedureDraft> read_procedure(const Scalar& name, const Node& node,
                                             Diagnostics& diagnostics) {
  const std::size_t errors_before = diagnostics.error_count();
  auto map = MapReader::of(node, fmt::format("`{}`", name.text), diagnostics);
  if (!map || !is_manoeuvre_name(name, "procedure", diagnostics)) return std::nullopt;
  ProcedureKeys keys(*map, diagnostics);
  ProcedureDraft draft;
  draft.name = name;
  draft.title = keys.text("title", true);
  draft.note = keys.text("note", false);
  draft.fluid = keys.range("fluid", units::temperature(), -273.15);
  draft.events = keys.times("events", true);
  draft.steady_pedal = keys.amount("steady_pedal", units::plain_number(), 1.0);
  draft.standstill = keys.amount("standstill", units::speed(), 3.0);
  if (const Node* before = keys.node("before")) read_before(*before, draft.before, diagnostics);
  read_manoeuvres(*map, draft, diagnostics);
  map->finish();
  draft.complete = diagnostics.error_count() == errors_before;
  return draft;
}

}  // namespace

void read_procedures(const Node& node, ProfileDraft& draft, Diagnostics& diagnostics) {
  for (const auto& [name, value] : entries_of(node, "`procedures`", most_procedures, diagnostics)) {
    if (auto procedure = read_procedure(name, *value, diagnostics))
      draft.procedures.push_back(std::move(*procedure));
  }
}

}  // namespace slipcase::profile
