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

/// More than any shop would mean; the sums stay numbers that people can read.
constexpr double most_hours = 10'000.0;
constexpr double most_an_hour = 1e6;

bool is_negative(double value, const Node& node, std::string_view what, Diagnostics& diagnostics) {
  if (value >= 0.0) return false;
  diagnostics.add(impossible_number, node.place,
                  fmt::format("{} cannot cost less than nothing", what));
  return true;
}

bool is_too_much(double value, double most, std::string_view most_says, const Node& node,
                 std::string_view what, Diagnostics& diagnostics) {
  if (value <= most) return false;
  diagnostics.add(impossible_number, node.place,
                  fmt::format("{} costs {} at most", what, most_says));
  return true;
}

std::optional<double> minutes(MapReader& map, std::string_view key, std::string_view what,
                              Diagnostics& diagnostics) {
  const Node* node = map.optional(key);
  if (node == nullptr) return std::nullopt;
  const auto time = facts::read_quantity(*node, units::of(units::Base::duration), diagnostics);
  if (!time || is_negative(time->value, *node, what, diagnostics)) return std::nullopt;
  const double minutes = time->value / milliseconds_a_minute;
  if (is_too_much(minutes, 60.0 * most_hours, fmt::format("{:.0f} h", most_hours), *node, what,
                  diagnostics))
    return std::nullopt;
  return minutes;
}

}  // namespace

WorkCosts read_costs(MapReader& map, Diagnostics& diagnostics) {
  WorkCosts costs;
  if (const Node* node = map.optional("labour_rate")) {
    const auto rate = facts::read_number(*node, diagnostics);
    if (rate && !is_negative(*rate, *node, "an hour of work", diagnostics) &&
        !is_too_much(*rate, most_an_hour, fmt::format("{:.0f}", most_an_hour), *node,
                     "an hour of work", diagnostics))
      costs.labour_rate = *rate;
  }
  if (const Node* node = map.optional("currency")) {
    if (auto text = facts::read_scalar(*node, "`currency`", diagnostics))
      costs.currency = std::move(text->text);
  }
  costs.comeback_minutes = minutes(map, "comeback", "a car that comes back", diagnostics);
  costs.unsolved_minutes = minutes(map, "unsolved", "a complaint that stays", diagnostics);
  if (costs.unsolved_minutes == 0.0)
    diagnostics.add(impossible_number, map.optional("unsolved")->place,
                    "a complaint that stays cannot cost nothing, or nothing would be worth doing: "
                    "leave `unsolved` out for one and a half times the dearest repair");
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
