#include "profile/read_costs.h"

#include <fmt/core.h>

#include "facts/document.h"
#include "profile/messages.h"

namespace slipcase::profile {

using facts::MapReader;
using facts::Node;

namespace {

constexpr facts::DocumentLimits cost_limits{std::size_t{1} << 16U, 4, 100};
constexpr double milliseconds_a_minute = 60'000.0;

bool is_negative(double value, const Node& node, std::string_view what, Diagnostics& diagnostics) {
  if (value >= 0.0) return false;
  diagnostics.add(impossible_number, node.place,
                  fmt::format("{} cannot cost less than nothing", what));
  return true;
}

std::optional<double> minutes(MapReader& map, std::string_view key, std::string_view what,
                              Diagnostics& diagnostics) {
  const Node* node = map.optional(key);
  if (node == nullptr) return std::nullopt;
  const auto time = facts::read_quantity(*node, units::of(units::Base::duration), diagnostics);
  if (!time || is_negative(time->value, *node, what, diagnostics)) return std::nullopt;
  return time->value / milliseconds_a_minute;
}

}  // namespace

WorkCosts read_costs(MapReader& map, Diagnostics& diagnostics) {
  WorkCosts costs;
  if (const Node* node = map.optional("labour_rate")) {
    const auto rate = facts::read_number(*node, diagnostics);
    if (rate && !is_negative(*rate, *node, "an hour of work", diagnostics))
      costs.labour_rate = *rate;
  }
  if (const Node* node = map.optional("currency")) {
    if (auto text = facts::read_scalar(*node, "`currency`", diagnostics))
      costs.currency = std::move(text->text);
  }
  costs.comeback_minutes = minutes(map, "comeback", "a car that comes back", diagnostics);
  costs.unsolved_minutes = minutes(map, "unsolved", "a complaint that stays", diagnostics);
  return costs;
}

std::optional<WorkCosts> read_costs_file(const SourceSet& sources, SourceId source,
                                         Diagnostics& diagnostics) {
  Diagnostics found;
  const auto document = facts::read_document(sources, source, cost_limits, found);
  auto map = document ? MapReader::of(*document, "a file of costs", found) : std::nullopt;
  std::optional<WorkCosts> costs;
  if (map) {
    costs = read_costs(*map, found);
    map->finish();
  }
  const bool failed = found.has_errors();
  found.sort();
  diagnostics.append(std::move(found));
  return failed ? std::nullopt : costs;
}

}  // namespace slipcase::profile
