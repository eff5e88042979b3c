// The sections of a profile's document to a draft. What cannot be read is reported and left out.
#pragma once

#include <string_view>
#include <utility>
#include <vector>

#include "facts/node_reader.h"
#include "profile/draft.h"

namespace slipcase::profile {

void read_gear_train(const facts::Node& node, ProfileDraft& draft, Diagnostics& diagnostics);
void read_elements(const facts::Node& node, ProfileDraft& draft, Diagnostics& diagnostics);
void read_chart(const facts::Node& node, ProfileDraft& draft, Diagnostics& diagnostics);
void read_ratios(const facts::Node& node, ProfileDraft& draft, Diagnostics& diagnostics);
void read_shifts(const facts::Node& node, ProfileDraft& draft, Diagnostics& diagnostics);

void read_scopes(const facts::Node& node, ProfileDraft& draft, Diagnostics& diagnostics);
void read_marks(const facts::Node& node, ProfileDraft& draft, Diagnostics& diagnostics);
void read_relations(const facts::Node& node, ProfileDraft& draft, Diagnostics& diagnostics);

void read_readings(const facts::Node& node, ProfileDraft& draft, Diagnostics& diagnostics);
void read_fresh(const facts::Node& node, ProfileDraft& draft, Diagnostics& diagnostics);
void read_resets(const facts::Node& node, ProfileDraft& draft, Diagnostics& diagnostics);

void read_controllers(const facts::Node& node, ProfileDraft& draft, Diagnostics& diagnostics);
void read_codes(const facts::Node& node, ProfileDraft& draft, Diagnostics& diagnostics);
void read_code_texts(const facts::Node& node, ProfileDraft& draft, Diagnostics& diagnostics);

void read_fluid(const facts::Node& node, ProfileDraft& draft, Diagnostics& diagnostics);
void read_procedures(const facts::Node& node, ProfileDraft& draft, Diagnostics& diagnostics);

// --- for the files that read sections
// -------------------------------------------------------------

/// What a profile of any unit ever built stays far below; more is a slip or an attack.
inline constexpr std::size_t most_elements = 32;
inline constexpr std::size_t most_gears = 32;
inline constexpr std::size_t most_sets = 16;
inline constexpr std::size_t most_procedures = 8;
inline constexpr std::size_t most_manoeuvres = 32;
inline constexpr std::size_t most_entries = 256;  // of any other table
inline constexpr std::size_t most_code_texts = 4096;

/// Key and value of every entry of a map whose keys are free; at most `most`, the rest is reported.
[[nodiscard]] std::vector<std::pair<Scalar, const facts::Node*>> entries_of(
    const facts::Node& node, std::string_view what, std::size_t most, Diagnostics& diagnostics);
/// Texts of a list, at most `most_entries`.
[[nodiscard]] std::vector<Scalar> names_of(const facts::Node& node, std::string_view what,
                                           Diagnostics& diagnostics);
/// `P0733`, or `P0745 to P0747`.
[[nodiscard]] std::optional<CodeRange> read_code_range(const Scalar& text,
                                                       Diagnostics& diagnostics);
/// `[-300 mbar, 300 mbar]`
[[nodiscard]] std::optional<RangeDraft> read_range(const facts::Node& node, std::string_view what,
                                                   const units::Dimension& dimension,
                                                   Diagnostics& diagnostics);
/// A part of a scalar, with its own place where the scalar stands as it was written.
[[nodiscard]] Scalar part_of(const Scalar& scalar, std::size_t begin, std::size_t length);

}  // namespace slipcase::profile
