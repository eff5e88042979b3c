#include "facts/document_edit.h"

#include <algorithm>
#include <charconv>

#include "facts/text_editor.h"

namespace slipcase::facts {

namespace {

using Path = std::span<const std::string>;

/// Nothing where the text has an error: what cannot be read is not changed.
std::optional<Node> tree_of(std::string_view text, const DocumentLimits& limits) {
  SourceSet sources;
  Diagnostics diagnostics;
  const SourceId source = sources.add("card", std::string(text));
  auto root = read_document(sources, source, limits, diagnostics);
  if (!root || diagnostics.has_errors() || root->kind != NodeKind::map) return std::nullopt;
  return root;
}

/// The item that a key such as `[2]` means.
std::optional<std::size_t> index_in(const Node& list, std::string_view key) {
  std::size_t index = 0;
  if (list.kind != NodeKind::list || key.size() < 3 || key.front() != '[') return std::nullopt;
  const auto [end, error] = std::from_chars(key.data() + 1, key.data() + key.size(), index);
  const bool read = error == std::errc() && *end == ']' && index < list.items.size();
  return read ? std::optional(index) : std::nullopt;
}

const Node* next_of(const Node& node, std::string_view key) {
  if (const auto index = index_in(node, key)) return &node.items[*index];
  return node.find(key);
}

Node* find(Node& node, std::string_view key) {
  if (const auto index = index_in(node, key)) return &node.items[*index];
  const auto is_it = [key](const NodeEntry& entry) { return entry.key.text == key; };
  const auto at = std::find_if(node.entries.begin(), node.entries.end(), is_it);
  return at == node.entries.end() ? nullptr : &at->value;
}

Node node_of(const CardValue& value) {
  Node node;
  switch (value.kind) {
    case CardValue::Kind::text:
      node.kind = NodeKind::scalar;
      node.text = value.text;
      break;
    case CardValue::Kind::list:
      node.kind = NodeKind::list;
      for (const CardValue& item : value.items) node.items.push_back(node_of(item));
      break;
    case CardValue::Kind::map:
      node.kind = NodeKind::map;
      for (const auto& [key, entry] : value.entries)
        node.entries.push_back({node_of(CardValue::of(key)), node_of(entry)});
      break;
  }
  return node;
}

/// The line end of a text of several lines may come of what stands behind it.
bool same_text(std::string_view a, std::string_view b) {
  const auto without_end = [](std::string_view text) {
    return text.substr(0, text.find_last_not_of('\n') + 1);
  };
  return without_end(a) == without_end(b);
}

/// The same content; places and quotes do not matter, nor does the order of a map's entries: a
/// new one may find its place anywhere in it.
bool same(const Node& a, const Node& b) {
  if (a.kind != b.kind || !same_text(a.text, b.text) || a.items.size() != b.items.size() ||
      a.entries.size() != b.entries.size())
    return false;
  if (!std::equal(a.items.begin(), a.items.end(), b.items.begin(), same)) return false;
  return std::all_of(a.entries.begin(), a.entries.end(), [&b](const NodeEntry& entry) {
    const Node* other = b.find(entry.key.text);
    return other != nullptr && same(entry.value, *other);
  });
}

/// How far `path` leads: the innermost map or value that is there.
struct Walk {
  const Node* node = nullptr;
  const Node* parent = nullptr;  // the map that `node` stands in
  std::size_t steps = 0;
};

Walk walk(const Node& root, Path path) {
  Walk at{&root, nullptr, 0};
  while (at.steps < path.size()) {
    const Node* next = next_of(*at.node, path[at.steps]);
    if (next == nullptr) break;
    at = {next, at.node, at.steps + 1};
  }
  return at;
}

/// `value` behind those keys of `path` that are missing.
CardValue nested(Path missing, CardValue value) {
  for (auto key = missing.rbegin(); key != missing.rend(); ++key) {
    std::vector<std::pair<std::string, CardValue>> entries;
    entries.emplace_back(*key, std::move(value));
    value = CardValue::map(std::move(entries));
  }
  return value;
}

/// The change on the tree: what the new text has to say.
bool put_into(Node& root, Path path, const CardValue& value) {
  Node* node = &root;
  for (std::size_t i = 0; i < path.size(); ++i) {
    Node* next = find(*node, path[i]);
    if (next == nullptr) {
      if (node->kind != NodeKind::map) return false;
      node->entries.push_back(
          {node_of(CardValue::of(path[i])), node_of(nested(path.subspan(i + 1), value))});
      return true;
    }
    node = next;
  }
  if (node->kind != NodeKind::scalar) return false;
  *node = node_of(value);
  return true;
}

bool add_into(Node& root, Path path, const CardValue& item) {
  Node* node = &root;
  for (std::size_t i = 0; i < path.size(); ++i) {
    Node* next = find(*node, path[i]);
    if (next == nullptr) return put_into(root, path, CardValue::list({item}));
    node = next;
  }
  if (node->kind == NodeKind::scalar) {
    Node list;
    list.kind = NodeKind::list;
    list.items = {*node, node_of(item)};
    *node = std::move(list);
    return true;
  }
  if (node->kind != NodeKind::list) return false;
  node->items.push_back(node_of(item));
  return true;
}

std::optional<std::string> if_it_says(std::optional<std::string> text, const Node& meant,
                                      const DocumentLimits& limits) {
  if (!text) return std::nullopt;
  const auto read = tree_of(*text, limits);
  if (!read || !same(*read, meant)) return std::nullopt;
  return text;
}

}  // namespace

std::optional<std::string> with_value(std::string_view text, Path path, const CardValue& value,
                                      const DocumentLimits& limits) {
  const auto root = tree_of(text, limits);
  if (!root || path.empty()) return std::nullopt;
  Node meant = *root;
  if (!put_into(meant, path, value)) return std::nullopt;
  const Walk at = walk(*root, path);
  const TextEditor editor(text, *root);
  auto edited =
      at.steps == path.size()
          ? editor.replaced(*at.node, value)
          : editor.with_entry(*at.node, path[at.steps], nested(path.subspan(at.steps + 1), value));
  return if_it_says(std::move(edited), meant, limits);
}

std::optional<std::string> with_item(std::string_view text, Path path, const CardValue& item,
                                     const DocumentLimits& limits) {
  const auto root = tree_of(text, limits);
  if (!root || path.empty()) return std::nullopt;
  const Walk at = walk(*root, path);
  if (at.steps < path.size()) return with_value(text, path, CardValue::list({item}), limits);
  Node meant = *root;
  if (!add_into(meant, path, item)) return std::nullopt;
  const TextEditor editor(text, *root);
  auto edited =
      at.node->kind == NodeKind::scalar
          ? editor.replaced(*at.node, CardValue::list({CardValue::of(at.node->text), item}))
          : editor.with_item(*at.node, item);
  return if_it_says(std::move(edited), meant, limits);
}

std::optional<std::string> with_name(std::string_view text, Path path, const std::string& name,
                                     const DocumentLimits& limits) {
  const auto root = tree_of(text, limits);
  if (!root) return std::nullopt;
  const Walk at = walk(*root, path);
  if (path.empty() || at.steps < path.size() || at.node->kind == NodeKind::map) return std::nullopt;
  Node meant = *root;
  Node* node = &meant;
  for (const std::string& key : path) node = find(*node, key);
  Node map;
  map.kind = NodeKind::map;
  map.entries.push_back({node_of(CardValue::of(name)), *node});
  *node = std::move(map);
  return if_it_says(TextEditor(text, *root).named(*at.node, name), meant, limits);
}

}  // namespace slipcase::facts
