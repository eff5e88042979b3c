// What happened to the vehicle and when: readings, events, checks and repairs.
#include <algorithm>

#include <fmt/core.h>

#include "facts/card_messages.h"
#include "facts/card_reader.h"
#include "facts/document_messages.h"

namespace slipcase::facts {

namespace {

constexpr double absolute_zero = -273.15;  // °C, by definition of the kelvin
// °C. The one byte of a temperature in SAE J1979 ends at 215; fluid burns before this.
constexpr double hottest_fluid = 300.0;
constexpr double most_driven = 1e13;        // mm: ten million km, twice what the oldest cars have
constexpr double longest_driven = 3.16e12;  // ms: a hundred years

CardTime read_time(MapReader& map, Diagnostics& diagnostics) {
  CardTime time;
  if (const Node* date = map.optional("date")) time.moment = read_moment(*date, diagnostics);
  if (const Node* odometer = map.optional("odometer")) {
    time.odometer = read_odometer(*odometer, diagnostics);
  }
  time.faulty =
      (!time.moment && map.is_meant("date")) || (!time.odometer && map.is_meant("odometer"));
  return time;
}

CardTime read_time_and_order(MapReader& map, Diagnostics& diagnostics) {
  CardTime time = read_time(map, diagnostics);
  if (const Node* after = map.optional("after")) {
    time.after = read_reference(*after, "`after`", diagnostics);
    time.faulty = time.faulty || time.after->name.faulty;
  }
  return time;
}

CardReference read_name(MapReader& map, std::string_view key, Diagnostics& diagnostics) {
  if (const Node* name = map.required(key)) {
    return read_reference(*name, fmt::format("`{}`", key), diagnostics);
  }
  const Place place = head_of(map.node());
  return {faulty_at(place), std::nullopt, place};
}

bool is_time_key(std::string_view key) {
  return key == "date" || key == "odometer" || key == "after";
}

bool is_reading_name(std::string_view key) {
  return !is_time_key(key) && key != "software" && key != "fluid_temperature";
}

/// Readings need a time. A key that is nearly `date` was meant as such, not as a reading.
const Node* refuse_timeless(const MapReader& map, Diagnostics& diagnostics) {
  for (const std::string_view key : {"date", "odometer"}) {
    const Node* nearly = map.misspelt(key);
    if (nearly == nullptr) continue;
    diagnostics.add(time_missing, nearly->place,
                    fmt::format("these readings have no `date` and no `odometer`: one of them is "
                                "needed; is `{}` meant as `{}`?",
                                nearly->text, key));
    return nearly;
  }
  if (!map.node().entry_refused) {
    diagnostics.add(time_missing, head_of(map.node()),
                    "these readings have no `date` and no `odometer`: one of them is needed");
  }
  return nullptr;
}

/// When something was read and nothing of it: what was read may have been forgotten.
void warn_of_nothing(const Node& node, Diagnostics& diagnostics) {
  const auto is_time = [](const NodeEntry& entry) { return is_time_key(entry.key.text); };
  if (node.entry_refused || !std::all_of(node.entries.begin(), node.entries.end(), is_time)) return;
  diagnostics.add(reading_empty, head_of(node),
                  "nothing is read here: write what the scan tool showed, or take this entry out");
}

std::optional<Snapshot> read_snapshot(const Node& node, Diagnostics& diagnostics) {
  auto map = MapReader::of(node, "a reading", diagnostics);
  if (!map) return std::nullopt;
  Snapshot snapshot;
  snapshot.place = head_of(node);
  snapshot.when = read_time_and_order(*map, diagnostics);
  // A date or odometer that was reported is not missing.
  const bool timeless = node.find("date") == nullptr && node.find("odometer") == nullptr;
  const Node* meant_as_time = timeless ? refuse_timeless(*map, diagnostics) : nullptr;
  if (!timeless) warn_of_nothing(node, diagnostics);
  if (const Node* software = map->optional("software")) {
    snapshot.software = read_scalar(*software, "`software`", diagnostics);
  }
  if (const Node* value = map->optional("fluid_temperature")) {
    snapshot.fluid_temperature = read_temperature(*value, diagnostics);
  }
  for (const auto& [key, value] : node.entries) {
    if (!is_reading_name(key.text) || &key == meant_as_time) continue;
    read_entry(key, value, EntryNames::names, snapshot.values, diagnostics);
  }
  refuse_repeated(snapshot.values, diagnostics);
  return snapshot;
}

std::optional<CardEvent> read_event(const Node& node, Diagnostics& diagnostics) {
  auto map = MapReader::of(node, "an event", diagnostics);
  if (!map) return std::nullopt;
  CardEvent event;
  event.place = head_of(node);
  event.what = read_name(*map, "what", diagnostics);
  event.when = read_time_and_order(*map, diagnostics);
  if (const Node* by = map->optional("by")) {
    const auto hand = read_choice(*by, "`by`", {"us", "others"}, diagnostics);
    if (hand) event.by = *hand == 0 ? Hand::us : Hand::others;
  }
  map->finish();
  return event;
}

void report_yes_no(const Node& node, Diagnostics& diagnostics) {
  const Node& first =
      node.kind == NodeKind::list && !node.items.empty() ? node.items.front() : node;
  const bool named = first.kind == NodeKind::scalar;
  if (named && (says_yes(first.text) || says_no(first.text))) {
    diagnostics.add(card_found_shape, head_of(node),
                    fmt::format("one answer stands without brackets: `found: {}`", first.text));
    return;
  }
  diagnostics.add(
      card_found_shape, head_of(node),
      named ? fmt::format("`{0}` is answered `yes` (it showed) or `no`: `found: {{ {0}: yes }}`",
                          first.text)
            : "what was found is answered `yes` or `no`: `found: { level_low: no }`");
}

void read_found(const Node& node, DoneCheck& check, Diagnostics& diagnostics) {
  if (node.kind == NodeKind::scalar) {
    check.answer = read_scalar(node, "`found`", diagnostics);
  } else if (node.kind == NodeKind::map) {
    check.found = read_entries(node, "`found`", EntryNames::names_or_members, diagnostics);
  } else {
    report_yes_no(node, diagnostics);
    check.answer = faulty_at(node.place);
  }
}

std::optional<DoneCheck> read_check(const Node& node, Diagnostics& diagnostics) {
  auto map = MapReader::of(node, "a check", diagnostics);
  if (!map) return std::nullopt;
  DoneCheck check;
  check.place = head_of(node);
  check.done = read_name(*map, "done", diagnostics);
  check.when = read_time_and_order(*map, diagnostics);
  if (const Node* found = map->optional("found")) {
    read_found(*found, check, diagnostics);
  } else if (map->is_meant("found")) {
    check.answer = faulty_at(check.place);
  }
  map->finish();
  return check;
}

// Behind a repair, `after` says how far or how long it was driven until the complaint was judged.
std::optional<units::Quantity> read_driven(const Node& node, Diagnostics& diagnostics) {
  const auto scalar = read_scalar(node, "`after`", diagnostics);
  if (!scalar) return std::nullopt;
  const auto driven = read_distance_or_time(*scalar, diagnostics);
  const bool distance = driven && driven->dimension == units::of(units::Base::distance);
  if (!driven || driven->value <= (distance ? most_driven : longest_driven)) return driven;
  diagnostics.add(number_range, scalar->place,
                  fmt::format("`{}` is more than any vehicle is driven", scalar->text));
  return std::nullopt;
}

std::optional<DoneRepair> read_repair(const Node& node, Diagnostics& diagnostics) {
  auto map = MapReader::of(node, "a repair", diagnostics);
  if (!map) return std::nullopt;
  DoneRepair repair;
  repair.place = head_of(node);
  repair.done = read_name(*map, "done", diagnostics);
  repair.when = read_time(*map, diagnostics);
  if (const Node* complaint = map->optional("complaint")) {
    const auto which =
        read_choice(*complaint, "`complaint`", {"gone", "same", "back"}, diagnostics);
    if (which) repair.complaint = static_cast<ComplaintAfter>(*which);
  }
  if (const Node* after = map->optional("after")) repair.after = read_driven(*after, diagnostics);
  map->finish();
  return repair;
}

template <typename Part>
std::vector<Part> read_each(const Node& node, std::string_view what,
                            std::optional<Part> (*read)(const Node&, Diagnostics&),
                            Diagnostics& diagnostics) {
  std::vector<Part> parts;
  for (const Node* item : read_list(node, what, false, diagnostics)) {
    if (auto part = read(*item, diagnostics)) parts.push_back(std::move(*part));
  }
  return parts;
}

}  // namespace

std::optional<units::Quantity> read_odometer(const Node& node, Diagnostics& diagnostics) {
  const auto odometer = read_quantity(node, units::of(units::Base::distance), diagnostics);
  if (!odometer || (odometer->value >= 0.0 && odometer->value <= most_driven)) return odometer;
  if (odometer->value < 0.0) {
    diagnostics.add(odometer_negative, node.place,
                    fmt::format("an odometer cannot show `{}`: it counts up from 0", node.text));
  } else {
    diagnostics.add(
        odometer_impossible, node.place,
        fmt::format("no vehicle has driven `{}`: write at most 10000000 km", node.text));
  }
  return std::nullopt;
}

std::optional<units::Quantity> read_temperature(const Node& node, Diagnostics& diagnostics) {
  const auto temperature = read_quantity(node, units::temperature(), diagnostics);
  if (!temperature) return temperature;
  const bool cold = temperature->value < absolute_zero;
  if (!cold && temperature->value <= hottest_fluid) return temperature;
  diagnostics.add(temperature_impossible, node.place,
                  cold ? fmt::format("nothing can be as cold as `{}`", node.text)
                       : fmt::format("no fluid in a transmission is as hot as `{}`", node.text));
  return std::nullopt;
}

std::vector<Snapshot> read_readings(const Node& node, Diagnostics& diagnostics) {
  return read_each<Snapshot>(node, "`readings`", read_snapshot, diagnostics);
}

std::vector<CardEvent> read_events(const Node& node, Diagnostics& diagnostics) {
  return read_each<CardEvent>(node, "`events`", read_event, diagnostics);
}

std::vector<DoneCheck> read_checks(const Node& node, Diagnostics& diagnostics) {
  return read_each<DoneCheck>(node, "`checks`", read_check, diagnostics);
}

std::vector<DoneRepair> read_repairs(const Node& node, Diagnostics& diagnostics) {
  return read_each<DoneRepair>(node, "`repairs`", read_repair, diagnostics);
}

}  // namespace slipcase::facts
