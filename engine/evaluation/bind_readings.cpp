// Binder: readings, snapshot by snapshot.
#include <algorithm>
#include <map>

#include <fmt/core.h>

#include "evaluation/binder.h"
#include "evaluation/messages.h"
#include "evaluation/possible.h"
#include "facts/node_reader.h"

namespace slipcase::evaluation {

using facts::Scalar;
using Said = ReadingFact::Said;

void Binder::readings() {
  std::map<std::string, std::uint32_t> software;
  std::vector<std::vector<ReadingFact>> rows;
  for (std::uint32_t i = 0; i < card_.readings.size(); ++i) {
    const auto& read = card_.readings[i];
    SnapshotFact fact;
    fact.when = moment_of(read.when);
    fact.when.is_reading = true;
    fact.on_card = i;
    fact.place = read.place;
    if (read.software) {
      const auto next = static_cast<std::uint32_t>(software.size() + 1);
      fact.software = software.emplace(read.software->text, next).first->second;
    }
    facts_.snapshots.push_back(fact);
    rows.emplace_back(rules_.readings.size());
    read_values(read, rows.back());
  }
  follow();
  std::vector<Moment*> moments{&facts_.now};
  for (auto& snapshot : facts_.snapshots) moments.push_back(&snapshot.when);
  for (Moment& moment : facts_.event_times) moments.push_back(&moment);
  flag_falls(moments);
  sort_snapshots(rows);
}

void Binder::read_values(const facts::Snapshot& snapshot, std::vector<ReadingFact>& row) {
  for (const auto& entry : snapshot.values) {
    const auto declared = names_.declared(CardKind::reading, entry.name);
    if (!declared) continue;
    names_.each(*declared, entry, [&](auto ground, const Scalar& value, bool) {
      if (ground) {
        read_value(GroundReading{*ground}, value, row[*ground]);
      } else {
        (void)parse_reading(rules_.rules->readings[declared->index].dimension, value);
      }
    });
  }
  // A snapshot's own temperature is the reading of that name, where the rules declare one.
  const auto declared = names_.find(CardKind::reading, "fluid_temperature");
  if (!snapshot.fluid_temperature || !declared || declared->header->scope) return;
  if (rules_.rules->readings[declared->index].dimension != units::temperature()) return;
  const GroundReading reading{declared->ground(std::nullopt)};
  const Scalar written{units::to_text(*snapshot.fluid_temperature), snapshot.place};
  if (!is_possible(reading, *snapshot.fluid_temperature, written)) return;
  row[reading.at()] = {Said::value, snapshot.fluid_temperature->value, snapshot.place};
}

void Binder::read_value(GroundReading reading, const Scalar& value, ReadingFact& fact) {
  const auto declaration = rules_.readings.origins[reading.at()].declaration;
  const auto& dimension = rules_.rules->readings[declaration].dimension;
  const ReadingFact read = parse_reading(dimension, value);
  if (read.said == Said::value && !is_possible(reading, {read.value, dimension}, value)) return;
  if (read.said != Said::nothing) fact = read;
}

ReadingFact Binder::parse_reading(const units::Dimension& dimension, const Scalar& value) {
  if (value.text == "unknown" || value.text == "not sure") return {};
  if (value.text == "not learned") return {Said::not_learned, 0.0, value.place};
  const auto quantity = facts::read_quantity(value, dimension, diagnostics_);
  if (!quantity) return {};
  return {Said::value, quantity->value, value.place};
}

bool Binder::is_possible(GroundReading reading, const units::Quantity& quantity,
                         const Scalar& value) {
  const auto& bounds = rules_.bounds[reading.at()];
  if (!bounds || evaluation::is_possible(*bounds, quantity.value)) return true;
  diagnostics_.add(impossible_value, value.place,
                   impossible_written(rules_, reading, value.text, quantity.dimension));
  return false;
}

namespace {

/// Two of one day, where nothing else orders them, are in the order of the card.
Order order_of(const SnapshotFact& a, const SnapshotFact& b, std::span<const Moment> events) {
  const Order order = compare(a.when, b.when, events);
  if (order != Order::unknown) return order;
  const bool same_day = a.when.day && a.when.day == b.when.day;
  const bool same_odometer = a.when.odometer && a.when.odometer == b.when.odometer;
  if (!same_day && !same_odometer) return Order::unknown;
  return a.on_card < b.on_card ? Order::before : Order::after;
}

}  // namespace

void Binder::sort_snapshots(std::vector<std::vector<ReadingFact>>& rows) {
  auto& snapshots = facts_.snapshots;
  std::vector<SnapshotFact> sorted;
  for (const SnapshotFact& snapshot : snapshots) {
    auto at = sorted.end();
    while (at != sorted.begin() &&
           order_of(snapshot, *(at - 1), facts_.event_times) == Order::before) {
      --at;
    }
    sorted.insert(at, snapshot);
  }
  for (std::size_t i = 1; i < sorted.size(); ++i) {
    if (order_of(sorted[i - 1], sorted[i], facts_.event_times) != Order::before) {
      facts_.ordered = false;
    }
  }
  snapshots = std::move(sorted);
  const std::size_t count = snapshots.size();
  facts_.readings.resize(rules_.readings.size() * count);
  for (std::size_t s = 0; s < count; ++s) {
    const auto& row = rows[snapshots[s].on_card];
    for (std::size_t r = 0; r < row.size(); ++r) facts_.readings[r * count + s] = row[r];
  }
}

}  // namespace slipcase::evaluation
