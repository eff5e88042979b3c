#include "facts/node_reader.h"

#include <algorithm>
#include <array>

#include <fmt/core.h>

#include "facts/document_messages.h"
#include "support/near_names.h"
#include "support/suggest.h"

namespace slipcase::facts {

namespace {

constexpr std::size_t most_keys_shown = 20;

std::string_view shape_of(const Node& node) {
  switch (node.kind) {
    case NodeKind::scalar:
      return "a single value";
    case NodeKind::map:
      return "a group of `key: value` lines";
    case NodeKind::list:
      return "a list";
    case NodeKind::null:
    case NodeKind::refused:
      break;
  }
  return "nothing";
}

void report_shape(const Node& node, std::string_view what, std::string_view wanted,
                  Diagnostics& diagnostics) {
  if (node.kind == NodeKind::refused) return;
  if (node.kind == NodeKind::null) {
    diagnostics.add(
        value_missing, node.place,
        fmt::format("nothing is written for {}: leave the key out if it is not known", what));
    return;
  }
  // A list is marked where it opens: what is in it may be right.
  const Place opening{node.place.source, node.place.begin, node.place.begin + 1};
  diagnostics.add(wrong_shape, node.kind == NodeKind::list ? opening : head_of(node),
                  fmt::format("{} is {} here, {} is expected", what, shape_of(node), wanted));
}

bool equal_but_capitals(std::string_view text, std::string_view small) {
  return std::equal(text.begin(), text.end(), small.begin(), small.end(), [](char c, char s) {
    return (c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c) == s;
  });
}

}  // namespace

bool says_yes(std::string_view text) {
  return equal_but_capitals(text, "yes") || equal_but_capitals(text, "true");
}

bool says_no(std::string_view text) {
  return equal_but_capitals(text, "no") || equal_but_capitals(text, "false");
}

bool says_on_or_off(std::string_view text) {
  constexpr std::array<std::string_view, 4> words{"on", "off", "y", "n"};
  return std::any_of(words.begin(), words.end(),
                     [text](std::string_view word) { return equal_but_capitals(text, word); });
}

Place head_of(const Node& node) {
  if (node.kind == NodeKind::map && !node.entries.empty()) return node.entries.front().key.place;
  if (node.kind == NodeKind::list && !node.items.empty()) return head_of(node.items.front());
  return node.place;
}

std::optional<MapReader> MapReader::of(const Node& node, std::string what,
                                       Diagnostics& diagnostics) {
  if (node.kind == NodeKind::map) return MapReader(node, std::move(what), diagnostics);
  report_shape(node, what, "a group of `key: value` lines", diagnostics);
  return std::nullopt;
}

const Node* MapReader::even_empty(std::string_view key) {
  known_.emplace_back(key);
  const Node* value = node_->find(key);
  return value == nullptr || value->kind == NodeKind::refused ? nullptr : value;
}

const Node* MapReader::optional(std::string_view key) {
  const Node* value = even_empty(key);
  if (value == nullptr || value->kind != NodeKind::null) return value;
  report_shape(*value, fmt::format("`{}`", key), "", *diagnostics_);
  return nullptr;
}

const Node* MapReader::required(std::string_view key) {
  const Node* value = optional(key);
  if (node_->find(key) != nullptr) return value;
  if (const Node* nearly = misspelt(key)) {
    report_unknown(*nearly, fmt::format(", did you mean `{}`?", key));
    reported_.push_back(nearly->text);
  } else if (!node_->entry_refused) {
    diagnostics_->add(missing_key, head_of(*node_), fmt::format("{} needs `{}`", what_, key));
  }
  return value;
}

const Node* MapReader::misspelt(std::string_view key) const {
  const std::vector<std::string> wanted{std::string(key)};
  for (const auto& [written, value] : node_->entries) {
    const bool asked_for = std::find(known_.begin(), known_.end(), written.text) != known_.end();
    if (!asked_for && suggest(written.text, wanted)) return &written;
  }
  return nullptr;
}

bool MapReader::is_meant(std::string_view key) const {
  return node_->entry_refused || node_->find(key) != nullptr || misspelt(key) != nullptr;
}

void MapReader::report_unknown(const Node& key, std::string_view hint) {
  diagnostics_->add(unknown_key, key.place,
                    fmt::format("`{}` is not known in {}{}", key.text, what_, hint));
}

bool MapReader::finish(std::string_view otherwise) {
  const auto holds = [](const auto& keys, std::string_view key) {
    return std::find(keys.begin(), keys.end(), key) != keys.end();
  };
  bool all_known = reported_.empty();
  for (const auto& [key, value] : node_->entries) {
    if (holds(known_, key.text) || holds(reported_, key.text)) continue;
    all_known = false;
    const NearNames near = near_names(key.text, known_);
    report_unknown(key, near.sure ? ", did you mean " + quoted_list(near.names) + "?"
                                  : fmt::format(": it takes {}{}",
                                                quoted_list(known_, most_keys_shown), otherwise));
  }
  return all_known;
}

std::optional<Scalar> read_scalar(const Node& node, std::string_view what,
                                  Diagnostics& diagnostics) {
  if (node.kind == NodeKind::scalar) return Scalar{node.text, node.place};
  report_shape(node, what, "a single value", diagnostics);
  return std::nullopt;
}

std::vector<const Node*> read_list(const Node& node, std::string_view what, bool one_will_do,
                                   Diagnostics& diagnostics) {
  if (one_will_do && node.kind == NodeKind::scalar) return {&node};
  if (node.kind != NodeKind::list) {
    report_shape(node, what, "a list (`- ` before each entry)", diagnostics);
    return {};
  }
  std::vector<const Node*> nodes;
  for (const Node& item : node.items) nodes.push_back(&item);
  return nodes;
}

std::vector<Scalar> read_scalars(const Node& node, std::string_view what,
                                 Diagnostics& diagnostics) {
  std::vector<Scalar> scalars;
  for (const Node* item : read_list(node, what, true, diagnostics)) {
    if (auto scalar = read_scalar(*item, fmt::format("an entry of {}", what), diagnostics)) {
      scalars.push_back(std::move(*scalar));
    }
  }
  return scalars;
}

}  // namespace slipcase::facts
