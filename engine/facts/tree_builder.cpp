#include "facts/tree_builder.h"

#include <algorithm>
#include <map>

#include <fmt/core.h>

#include "facts/document_messages.h"
#include "support/utf8.h"

namespace slipcase::facts {

namespace {

// Line ends and tabs may be in a text; a bell or a NUL (from an escape) may not, nor what makes a
// line read other than it is. Says what is there; "" where all is well.
std::string hidden_sign(std::string_view text) {
  for (std::size_t at = 0; at < text.size();) {
    const Character character = decode(text.substr(at));
    const bool plain =
        character.code == U'\n' || character.code == U'\t' || character.code == U'\r';
    if (!plain && !is_printable(text.substr(at, character.length))) {
      const bool shown_by_number = character.code >= 0x2000 && character.length > 1;
      return shown_by_number ? fmt::format(
                                   "a sign that cannot be seen and changes how a line reads "
                                   "(U+{:04X})",
                                   static_cast<unsigned>(character.code))
                             : "a control character";
    }
    at += character.length;
  }
  return {};
}

// The first of two entries with one key stays, so that what follows is checked against something.
void refuse_duplicates(Node& map, Diagnostics& diagnostics) {
  std::map<std::string_view, Place> seen;
  for (NodeEntry& entry : map.entries) {
    const auto [first, is_new] = seen.try_emplace(entry.key.text, entry.key.place);
    if (is_new) continue;
    diagnostics
        .add(duplicate_key, entry.key.place,
             fmt::format("`{}` is written twice here: keep one of the two", entry.key.text))
        .notes.push_back({first->second, "the first is here"});
    entry.key.kind = NodeKind::refused;
  }
  std::erase_if(map.entries,
                [](const NodeEntry& entry) { return entry.key.kind == NodeKind::refused; });
}

// `120,000 km` between braces: the comma ends the value `120`, and `000 km` is a key without one.
bool is_cut_number(const NodeEntry& number, const NodeEntry& rest) {
  constexpr std::string_view digits = "0123456789";
  const Node& value = number.value;
  const Node& key = rest.key;
  if (value.kind != NodeKind::scalar || value.quoted || value.text.empty()) return false;
  if (rest.value.kind != NodeKind::null || key.quoted || key.text.empty()) return false;
  const std::size_t sign = value.text.find_first_of("+-") == 0 ? 1 : 0;
  return key.place.begin == value.place.end + 1 && value.text.size() > sign &&
         value.text.find_first_not_of(digits, sign) == std::string::npos &&
         digits.find(key.text.front()) != std::string_view::npos;
}

std::string in_one_piece(std::string_view number, std::string_view rest) {
  const std::size_t decimals = std::min(rest.find_first_not_of("0123456789"), rest.size());
  return fmt::format("{}{}{}", number, decimals == 3 ? "" : ".", rest);
}

// One message for both halves.
void join_cut_numbers(Node& map, Diagnostics& diagnostics) {
  for (std::size_t i = 1; i < map.entries.size(); ++i) {
    if (!is_cut_number(map.entries[i - 1], map.entries[i])) continue;
    Node& number = map.entries[i - 1].value;
    Node& rest = map.entries[i].key;
    const Place place{number.place.source, number.place.begin, rest.place.end};
    diagnostics.add(number_shape, place,
                    fmt::format("there is a comma in a number, and a comma ends a value here: "
                                "write `{}`",
                                in_one_piece(number.text, rest.text)));
    number.kind = NodeKind::refused;
    rest.kind = NodeKind::refused;
  }
  std::erase_if(map.entries,
                [](const NodeEntry& entry) { return entry.key.kind == NodeKind::refused; });
}

}  // namespace

bool TreeBuilder::open(NodeKind kind, std::uint32_t begin) {
  if (!count(begin)) return false;
  if (open_.size() >= limits_.most_depth) {
    report(too_deep, begin, begin + 1,
           fmt::format("this is nested more than {} deep: no such file needs that",
                       limits_.most_depth));
    return false;
  }
  Node node;
  node.kind = kind;
  node.place = place(begin, begin);
  open_.push_back({std::move(node), std::nullopt});
  return true;
}

bool TreeBuilder::scalar(std::string text, bool quoted, std::uint32_t begin, std::uint32_t end) {
  if (const std::string hidden = hidden_sign(text); !hidden.empty()) {
    report(text_control_character, begin, end,
           fmt::format("this text holds {}: take it out", hidden));
    return refused(begin, end);
  }
  if (!count(begin)) return false;
  Node node;
  node.kind = NodeKind::scalar;
  node.text = std::move(text);
  node.quoted = quoted;
  node.place = place(begin, end);
  add(std::move(node));
  return true;
}

bool TreeBuilder::null(std::uint32_t at) {
  if (!count(at)) return false;
  Node node;
  node.place = place(at, at + 1);
  if (!open_.empty() && open_.back().key) node.place = open_.back().key->place;
  add(std::move(node));
  return true;
}

bool TreeBuilder::refused(std::uint32_t begin, std::uint32_t end) {
  if (!count(begin)) return false;
  Node node;
  node.kind = NodeKind::refused;
  node.place = place(begin, end);
  add(std::move(node));
  return true;
}

void TreeBuilder::close(std::uint32_t end) {
  Node node = std::move(open_.back().node);
  open_.pop_back();
  node.place.end = std::max({end, node.place.end, node.place.begin + 1});
  join_cut_numbers(node, diagnostics_);
  refuse_duplicates(node, diagnostics_);
  add(std::move(node));
}

void TreeBuilder::report(const Message& message, std::uint32_t begin, std::uint32_t end,
                         std::string_view text) {
  diagnostics_.add(message, place(begin, end), text);
}

std::optional<std::uint32_t> TreeBuilder::innermost_begin() const {
  if (open_.empty()) return std::nullopt;
  return open_.back().node.place.begin;
}

bool TreeBuilder::expects_key() const {
  return !open_.empty() && open_.back().node.kind == NodeKind::map && !open_.back().key;
}

bool TreeBuilder::count(std::uint32_t at) {
  if (++nodes_ <= limits_.most_nodes) return true;
  report(too_many_values, at, at + 1,
         fmt::format("more than {} values: is this the right file?", limits_.most_nodes));
  return false;
}

void TreeBuilder::add(Node value) {
  if (open_.empty()) {
    root_ = std::move(value);
    return;
  }
  Frame& frame = open_.back();
  frame.node.place.end = std::max(frame.node.place.end, value.place.end);
  if (frame.node.kind == NodeKind::list) {
    frame.node.items.push_back(std::move(value));
  } else if (!frame.key) {
    add_key(frame, std::move(value));
  } else {
    if (frame.key->kind == NodeKind::scalar) {
      frame.node.entries.push_back({std::move(*frame.key), std::move(value)});
    } else {
      frame.node.entry_refused = true;
    }
    frame.key.reset();
  }
}

void TreeBuilder::add_key(Frame& frame, Node key) {
  const bool silent = key.kind == NodeKind::refused;
  if (key.kind != NodeKind::scalar && !silent) {
    diagnostics_.add(key_not_text, key.place, "a name is expected before the `:`");
    key.kind = NodeKind::refused;
  }
  frame.key = std::move(key);
}

}  // namespace slipcase::facts
