// The parts of a job card, one function for each; job_card.cpp puts them together.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "facts/job_card.h"
#include "facts/node_reader.h"

namespace slipcase::facts {

/// `lining_worn of K2`. Dashes and quotes that a phone or word processor made are read as plain
/// ones. What cannot be read is faulty in it.
[[nodiscard]] CardReference read_reference(const Node& node, std::string_view what,
                                           Diagnostics& diagnostics);
/// A list of references; a single one will do.
[[nodiscard]] std::vector<CardReference> read_references(const Node& node, std::string_view what,
                                                         Diagnostics& diagnostics);

/// What may stand as a name in front of the `:` of an entry.
enum class EntryNames : std::uint8_t {
  names,             // `flare`, `flare of 2-3`
  names_or_members,  // also `K2`, for a check that looks at one member after the other
};
/// One `name: value` or `name: { member: value, ... }`.
void read_entry(const Node& key, const Node& value, EntryNames names, std::vector<Entry>& entries,
                Diagnostics& diagnostics);
[[nodiscard]] std::vector<Entry> read_entries(const Node& node, std::string_view what,
                                              EntryNames names, Diagnostics& diagnostics);
/// One name (or one member of it) answered twice, in whatever spelling: the first stays.
void refuse_repeated(std::vector<Entry>& entries, Diagnostics& diagnostics);

/// One of a few words: which one.
[[nodiscard]] std::optional<std::size_t> read_choice(const Node& node, std::string_view what,
                                                     const std::vector<std::string>& words,
                                                     Diagnostics& diagnostics);

[[nodiscard]] std::optional<units::Quantity> read_odometer(const Node& node,
                                                           Diagnostics& diagnostics);
[[nodiscard]] std::optional<units::Quantity> read_temperature(const Node& node,
                                                              Diagnostics& diagnostics);

[[nodiscard]] std::optional<std::vector<ControllerCodes>> read_codes(const Node& node,
                                                                     Diagnostics& diagnostics);
[[nodiscard]] std::vector<Snapshot> read_readings(const Node& node, Diagnostics& diagnostics);
[[nodiscard]] std::vector<CardEvent> read_events(const Node& node, Diagnostics& diagnostics);
[[nodiscard]] std::vector<DoneCheck> read_checks(const Node& node, Diagnostics& diagnostics);
[[nodiscard]] std::vector<DoneRepair> read_repairs(const Node& node, Diagnostics& diagnostics);

}  // namespace slipcase::facts
