// YAML and JSON as one strict tree of texts with their places.
//
// Job cards and unit profiles are read from it. Nothing is guessed: `yes`, `012` and `.nan` stay
// the text that was written. What lets a small file say something else than it seems to (anchors
// and aliases, tags, merge keys, a key written twice, a second document) is an error with its
// place.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "slipcase/diagnostic.h"
#include "slipcase/source.h"

namespace slipcase::facts {

enum class NodeKind : std::uint8_t {
  scalar,
  map,
  list,
  null,     // nothing written (`key:`), `~` or null
  refused,  // was reported while reading: readers pass over it in silence
};

struct NodeEntry;

struct Node {
  NodeKind kind = NodeKind::null;
  std::string text;     // of a scalar; without its quotes
  bool quoted = false;  // was in quotes, or is a JSON string
  /// With the quotes. Of a map or list: from its first to its last part. Of a null: the key's.
  Place place;
  std::vector<NodeEntry> entries;  // of a map, in the order written; keys are scalars
  bool entry_refused = false;      // an entry was left out: its key was reported
  std::vector<Node> items;         // of a list

  /// The value behind `key`; null if there is none.
  [[nodiscard]] const Node* find(std::string_view key) const;
};

struct NodeEntry {
  Node key;
  Node value;
};

struct DocumentLimits {
  std::size_t most_bytes = std::size_t{4} << 20U;
  std::size_t most_depth = 50;
  std::size_t most_nodes = 200'000;
};

/// The one document in the text: JSON if it begins with `{` or `[` and is JSON, else YAML. Nothing
/// comes back if it cannot be read to its end (the first mistake of that kind is reported). Other
/// errors are all reported, and the tree comes back with `refused` where they were: check
/// `has_errors`.
[[nodiscard]] std::optional<Node> read_document(const SourceSet& sources, SourceId source,
                                                const DocumentLimits& limits,
                                                Diagnostics& diagnostics);

}  // namespace slipcase::facts
