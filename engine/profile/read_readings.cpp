#include <fmt/core.h>

#include "profile/messages.h"
#include "profile/read_draft.h"
#include "profile/wording.h"

namespace slipcase::profile {

using facts::MapReader;
using facts::Node;

namespace {

std::optional<units::Dimension> read_dimension(MapReader& map, Diagnostics& diagnostics) {
  const Node* node = map.required("measures");
  if (node == nullptr) return std::nullopt;
  const auto name = facts::read_scalar(*node, "`measures`", diagnostics);
  if (!name) return std::nullopt;
  const auto dimension = units::dimension_named(name->text);
  if (!dimension) {
    diagnostics.add(unknown_dimension, name->place,
                    fmt::format("`{}` is nothing that can be measured{}", name->text,
                                near_or_all(name->text, units::dimension_names())));
  }
  return dimension;
}

/// A distance on the scale: the scatter of a temperature is a difference of two.
units::Dimension of_a_difference(const units::Dimension& dimension) {
  return units::difference(dimension, dimension).value_or(dimension);
}

BoundsDraft read_bounds(MapReader& map, const units::Dimension& dimension,
                        Diagnostics& diagnostics) {
  BoundsDraft bounds;
  const auto range = [&](std::string_view key, std::optional<RangeDraft>& into) {
    if (const Node* node = map.optional(key)) {
      into = read_range(*node, fmt::format("`{}`", key), dimension, diagnostics);
    }
  };
  range("possible", bounds.possible);
  range("limits", bounds.limits);
  range("watch", bounds.watch);
  if (const Node* node = map.optional("scatter")) {
    const auto scatter = facts::read_quantity(*node, of_a_difference(dimension), diagnostics);
    if (scatter) bounds.scatter = Number{scatter->value, node->place};
  }
  return bounds;
}

void read_exceptions(const Node& node, ReadingDraft& reading, Diagnostics& diagnostics) {
  if (!reading.scope) {
    diagnostics.add(unknown_scope, facts::head_of(node),
                    fmt::format("`except` of `{}` needs `of: scope`: without one there is only one "
                                "value",
                                reading.name.text));
    return;
  }
  for (const auto& [member, value] : entries_of(node, "`except`", most_entries, diagnostics)) {
    auto map = MapReader::of(*value, fmt::format("`{}`", member.text), diagnostics);
    if (!map) continue;
    reading.except.emplace_back(member, read_bounds(*map, reading.dimension, diagnostics));
    map->finish();
  }
}

void read_reading(const Scalar& name, const Node& node, ProfileDraft& draft,
                  Diagnostics& diagnostics) {
  auto map = MapReader::of(node, fmt::format("the reading `{}`", name.text), diagnostics);
  if (!map) return;
  ReadingDraft reading{name, std::nullopt, {}, {}, {}};
  if (const Node* scope = map->optional("of")) {
    reading.scope = facts::read_scalar(*scope, "`of`", diagnostics);
  }
  const auto dimension = read_dimension(*map, diagnostics);
  if (!dimension) return;  // without it no other line can be judged
  reading.dimension = *dimension;
  const std::size_t errors_before = diagnostics.error_count();
  reading.all = read_bounds(*map, *dimension, diagnostics);
  if (const Node* except = map->optional("except")) read_exceptions(*except, reading, diagnostics);
  map->finish();
  if (diagnostics.error_count() == errors_before) draft.readings.push_back(std::move(reading));
}

std::optional<units::Quantity> read_span(MapReader& map, std::string_view key, units::Base base,
                                         Diagnostics& diagnostics) {
  const Node* node = map.required(key);
  if (node == nullptr) return std::nullopt;
  auto span = facts::read_quantity(*node, units::of(base), diagnostics);
  if (span && span->value <= 0.0) {
    diagnostics.add(
        impossible_number, node->place,
        fmt::format("`{}` must be more than zero, or no reading would ever count", key));
    return std::nullopt;
  }
  return span;
}

}  // namespace

void read_readings(const Node& node, ProfileDraft& draft, Diagnostics& diagnostics) {
  for (const auto& [name, value] : entries_of(node, "`readings`", most_entries, diagnostics)) {
    read_reading(name, *value, draft, diagnostics);
  }
}

void read_fresh(const Node& node, ProfileDraft& draft, Diagnostics& diagnostics) {
  auto map = MapReader::of(node, "`fresh`", diagnostics);
  if (!map) return;
  draft.fresh_time = read_span(*map, "time", units::Base::duration, diagnostics);
  draft.fresh_distance = read_span(*map, "distance", units::Base::distance, diagnostics);
  map->finish();
}

void read_resets(const Node& node, ProfileDraft& draft, Diagnostics& diagnostics) {
  auto map = MapReader::of(node, "`resets`", diagnostics);
  if (!map) return;
  if (const Node* events = map->optional("cleared_by")) {
    draft.cleared_by = names_of(*events, "`cleared_by`", diagnostics);
  }
  if (const Node* events = map->optional("changed_by")) {
    draft.changed_by = names_of(*events, "`changed_by`", diagnostics);
  }
  map->finish();
}

}  // namespace slipcase::profile
