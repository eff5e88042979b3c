#include "profile/read_draft.h"

#include <fmt/core.h>

#include "facts/document_messages.h"
#include "profile/messages.h"

namespace slipcase::profile {

using facts::Node;

namespace {

bool is_too_many(std::size_t count, std::size_t most, const Node& node, std::string_view what,
                 Diagnostics& diagnostics) {
  if (count <= most) return false;
  diagnostics.add(
      too_many, facts::head_of(node),
      fmt::format("{} has {} entries, more than {} make no sense here", what, count, most));
  return true;
}

}  // namespace

std::vector<std::pair<Scalar, const Node*>> entries_of(const Node& node, std::string_view what,
                                                       std::size_t most, Diagnostics& diagnostics) {
  std::vector<std::pair<Scalar, const Node*>> entries;
  if (!facts::MapReader::of(node, std::string(what), diagnostics)) return entries;
  if (is_too_many(node.entries.size(), most, node, what, diagnostics)) return entries;
  for (const auto& [key, value] : node.entries) {
    if (key.kind != facts::NodeKind::scalar) continue;
    entries.emplace_back(Scalar{key.text, key.place}, &value);
  }
  return entries;
}

std::vector<Scalar> names_of(const Node& node, std::string_view what, Diagnostics& diagnostics) {
  if (is_too_many(node.items.size(), most_entries, node, what, diagnostics)) return {};
  return facts::read_scalars(node, what, diagnostics);
}

std::optional<RangeDraft> read_range(const Node& node, std::string_view what,
                                     const units::Dimension& dimension, Diagnostics& diagnostics) {
  if (node.kind == facts::NodeKind::refused) return std::nullopt;
  if (node.kind != facts::NodeKind::list || node.items.size() != 2) {
    diagnostics.add(facts::wrong_shape, facts::head_of(node),
                    fmt::format("{} takes two values, the lower one first: `[..., ...]`", what));
    return std::nullopt;
  }
  const auto low = facts::read_quantity(node.items[0], dimension, diagnostics);
  const auto high = facts::read_quantity(node.items[1], dimension, diagnostics);
  if (!low || !high) return std::nullopt;
  return RangeDraft{low->value, high->value, node.place};
}

Scalar part_of(const Scalar& scalar, std::size_t begin, std::size_t length) {
  Scalar part{scalar.text.substr(begin, length), scalar.place};
  // In quotes, or with escapes, the text is not the bytes of its place.
  if (scalar.place.end - scalar.place.begin != scalar.text.size()) return part;
  part.place.begin += static_cast<std::uint32_t>(begin);
  part.place.end = part.place.begin + static_cast<std::uint32_t>(part.text.size());
  return part;
}

}  // namespace slipcase::profile
