// Service data of a profile's document to a draft.
#include <fmt/core.h>

#include "profile/messages.h"
#include "profile/read_draft.h"

namespace slipcase::profile {

using facts::MapReader;
using facts::Node;

namespace {

std::optional<units::Quantity> read_amount(MapReader& map, std::string_view key, units::Base base,
                                           Diagnostics& diagnostics) {
  const Node* node = map.required(key);
  if (node == nullptr) return std::nullopt;
  auto amount = facts::read_quantity(*node, units::of(base), diagnostics);
  if (!amount || amount->value > 0.0) return amount;
  diagnostics.add(impossible_number, node->place, fmt::format("`{}` must be more than zero", key));
  return std::nullopt;
}

}  // namespace

void read_fluid(const Node& node, ProfileDraft& draft, Diagnostics& diagnostics) {
  auto map = MapReader::of(node, "`fluid`", diagnostics);
  if (!map) return;
  draft.fluid_fill = read_amount(*map, "fill", units::Base::volume, diagnostics);
  draft.fluid_density = read_amount(*map, "density", units::Base::density, diagnostics);
  map->finish();
}

}  // namespace slipcase::profile
