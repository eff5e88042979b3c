#include <algorithm>

#include <fmt/core.h>

#include "profile/messages.h"
#include "profile/read_draft.h"

namespace slipcase::profile {

using facts::MapReader;
using facts::Node;

namespace {

/// `K1`, or `(K1)` for an element that is filled but carries nothing.
ChartEntry chart_entry(const Scalar& text) {
  if (text.text.size() < 3 || text.text.front() != '(' || text.text.back() != ')') {
    return {text, true};
  }
  return {part_of(text, 1, text.text.size() - 2), false};
}

std::optional<std::vector<Scalar>> read_stated(MapReader& map, std::string_view key,
                                               Diagnostics& diagnostics) {
  const Node* node = map.optional(key);
  if (node == nullptr) return std::nullopt;
  return names_of(*node, fmt::format("`{}`", key), diagnostics);
}

ShiftDraft read_stated_shift(const Scalar& name, const Node& node, Diagnostics& diagnostics) {
  ShiftDraft shift{name, std::nullopt, std::nullopt, std::nullopt};
  auto map = MapReader::of(node, fmt::format("the shift `{}`", name.text), diagnostics);
  if (!map) return shift;
  shift.applies = read_stated(*map, "applies", diagnostics);
  shift.releases = read_stated(*map, "releases", diagnostics);
  shift.holds = read_stated(*map, "holds", diagnostics);
  map->finish();
  return shift;
}

}  // namespace

void read_chart(const Node& node, ProfileDraft& draft, Diagnostics& diagnostics) {
  for (const auto& [gear, value] : entries_of(node, "`chart`", most_gears, diagnostics)) {
    ChartRow& row = draft.chart.emplace_back();
    row.gear = gear;
    for (const Scalar& element :
         names_of(*value, fmt::format("gear `{}`", gear.text), diagnostics)) {
      row.entries.push_back(chart_entry(element));
    }
  }
}

void read_ratios(const Node& node, ProfileDraft& draft, Diagnostics& diagnostics) {
  for (const auto& [gear, value] : entries_of(node, "`ratios`", most_gears, diagnostics)) {
    const auto ratio = facts::read_number(*value, diagnostics);
    if (ratio) draft.ratios.push_back({gear, {*ratio, value->place}});
  }
}

void read_shifts(const Node& node, ProfileDraft& draft, Diagnostics& diagnostics) {
  if (node.kind == facts::NodeKind::scalar) {
    if (node.text == "single swaps") return;
    diagnostics.add(shift_shape, node.place,
                    fmt::format("`{}` is not understood: write `single swaps`, or list the shifts: "
                                "`[1-2, 2-1]`",
                                node.text));
    return;
  }
  std::vector<ShiftDraft>& listed = draft.shifts.emplace<std::vector<ShiftDraft>>();
  if (node.kind == facts::NodeKind::map) {
    for (const auto& [name, value] : entries_of(node, "`shifts`", most_entries, diagnostics)) {
      listed.push_back(read_stated_shift(name, *value, diagnostics));
    }
    return;
  }
  for (const Scalar& name : names_of(node, "`shifts`", diagnostics)) {
    listed.push_back({name, std::nullopt, std::nullopt, std::nullopt});
  }
}

}  // namespace slipcase::profile
