#include "facts/text_editor.h"

#include <algorithm>

namespace slipcase::facts {

namespace {

constexpr std::size_t widest_line = 100;
constexpr std::size_t step = 2;  // of indentation

std::string blanks(std::size_t count) { return std::string(count, ' '); }

}  // namespace

TextEditor::TextEditor(std::string_view text, const Node& root)
    : text_(text),
      root_(root),
      line_end_(text.find("\r\n") == std::string_view::npos ? "\n" : "\r\n"),
      quotes_(is_flow(root) ? Quotes::always : Quotes::where_needed) {}

bool TextEditor::is_flow(const Node& node) const {
  if (node.place.begin >= text_.size()) return false;
  const char first = text_[node.place.begin];
  return node.kind == NodeKind::map ? first == '{' : node.kind == NodeKind::list && first == '[';
}

/// A byte-order mark stands before the first column.
std::size_t TextEditor::line_start(std::size_t at) const {
  constexpr std::string_view mark = "\xEF\xBB\xBF";
  const std::size_t before = at == 0 ? std::string_view::npos : text_.rfind('\n', at - 1);
  if (before != std::string_view::npos) return before + 1;
  return text_.starts_with(mark) ? mark.size() : 0;
}

/// Where the line ends that holds `at`, in front of its line end.
std::size_t TextEditor::line_stop(std::size_t at) const {
  std::size_t stop = std::min(text_.find('\n', at), text_.size());
  if (stop > at && text_[stop - 1] == '\r') --stop;
  return stop;
}

/// Of the first item of a list in block form.
std::size_t TextEditor::dash_of(const Node& list) const {
  return text_.rfind('-', list.items.front().place.begin - 1);
}

std::size_t TextEditor::end_of_block_text(std::size_t begin, std::size_t owner) const {
  std::size_t end = line_stop(begin);
  for (std::size_t line = text_.find('\n', end); line < text_.size();
       line = text_.find('\n', line + 1)) {
    const std::size_t first = text_.find_first_not_of(" \r", line + 1);
    if (first == std::string_view::npos) break;
    if (text_[first] == '\n') continue;
    if (column(first) <= owner) break;
    end = line_stop(first);
  }
  return end;
}

std::optional<std::size_t> TextEditor::end_of_parts(const Node& node) const {
  if (node.kind == NodeKind::map && !node.entries.empty()) {
    const NodeEntry& last = node.entries.back();
    return end_of(last.value, column(node.entries.front().key.place.begin));
  }
  if (node.kind == NodeKind::list && !node.items.empty()) {
    const Node& last = node.items.back();
    return end_of(last, is_flow(node) ? 0 : column(dash_of(node)));
  }
  return is_flow(node) ? std::optional<std::size_t>(node.place.begin + 1) : std::nullopt;
}

std::optional<std::size_t> TextEditor::end_of_flow(const Node& node) const {
  const auto parts = end_of_parts(node);
  if (!parts) return std::nullopt;
  const char close = node.kind == NodeKind::map ? '}' : ']';
  for (std::size_t at = *parts; at < text_.size(); ++at) {
    if (text_[at] == close) return at + 1;
    if (text_[at] == '#') at = std::min(text_.find('\n', at), text_.size() - 1);
    constexpr std::string_view between = ", \t\r\n";
    if (between.find(text_[at]) == std::string_view::npos) return std::nullopt;
  }
  return std::nullopt;
}

std::optional<std::size_t> TextEditor::end_of(const Node& node, std::size_t owner) const {
  switch (node.kind) {
    case NodeKind::scalar: {
      const char first = text_[node.place.begin];
      const bool block = (first == '|' || first == '>') && !node.text.starts_with(first);
      return block ? end_of_block_text(node.place.begin, owner) : node.place.end;
    }
    case NodeKind::map:
    case NodeKind::list:
      return is_flow(node) ? end_of_flow(node) : end_of_parts(node);
    case NodeKind::null:
    case NodeKind::refused:
      break;
  }
  return std::nullopt;
}

std::string TextEditor::inserted(std::size_t at, std::string_view added) const {
  std::string out(text_.substr(0, at));
  out.append(added).append(text_.substr(at));
  return out;
}

std::optional<std::string> TextEditor::replaced(const Node& scalar, const CardValue& value) const {
  if (scalar.kind != NodeKind::scalar) return std::nullopt;
  const char first = text_[scalar.place.begin];
  if ((first == '|' || first == '>') && !scalar.text.starts_with(first)) return std::nullopt;
  std::string out(text_.substr(0, scalar.place.begin));
  out.append(written_inline(value, quotes_)).append(text_.substr(scalar.place.end));
  return out;
}

/// In braces where it stands on one line; else the list moves below its name.
std::optional<std::string> TextEditor::named(const Node& node, const std::string& name) const {
  const std::string key = written_text(name, quotes_) + ":";
  const bool block = node.kind == NodeKind::list && !is_flow(node);
  if (block) {
    const std::size_t dash = dash_of(node);
    if (column(dash) == 0) return std::nullopt;  // the name would stand beside the outermost keys
    return inserted(line_start(dash), blanks(column(dash)) + key + std::string(line_end_));
  }
  const auto end = end_of(node, 0);
  if (!end) return std::nullopt;
  std::string out(text_.substr(0, node.place.begin));
  out.append("{ " + key + " ").append(text_.substr(node.place.begin, *end - node.place.begin));
  return out.append(" }").append(text_.substr(*end));
}

/// Behind the last part of a map or list in brackets: on the same line, or on one of its own where
/// the others have that or the line would get too long.
std::optional<std::string> TextEditor::into_flow(const Node& node, const std::string& part) const {
  const auto end = end_of_parts(node);
  if (!end) return std::nullopt;
  const bool is_map = node.kind == NodeKind::map;
  if (is_map ? node.entries.empty() : node.items.empty())
    return inserted(*end, is_map ? " " + part + " " : part);
  const std::size_t last =
      is_map ? node.entries.back().key.place.begin : node.items.back().place.begin;
  const std::size_t start = line_start(last);
  const bool own_line =
      text_.substr(start, last - start).find_first_not_of(" \t") == std::string_view::npos;
  constexpr std::size_t separator = 4;  // with what closes it
  const bool too_long = *end - line_start(*end) + part.size() + separator > widest_line;
  const bool first_line = line_start(node.place.begin) == start;
  if (own_line && !first_line)
    return inserted(*end, "," + std::string(line_end_) + blanks(column(last)) + part);
  if (!too_long) return inserted(*end, ", " + part);
  return inserted(*end,
                  "," + std::string(line_end_) + blanks(column(node.place.begin) + step) + part);
}

std::string TextEditor::item_text(const CardValue& item, std::size_t column) const {
  if (item.kind != CardValue::Kind::map)
    return "- " + written_wrapped(item, quotes_, column + step, widest_line, line_end_);
  std::string out;
  for (const auto& [key, value] : item.entries) {
    out += out.empty() ? "- " : std::string(line_end_) + blanks(column + step);
    out += entry_text(key, value, column + step, false);
  }
  return out;
}

std::string TextEditor::entry_text(std::string_view key, const CardValue& value, std::size_t column,
                                   bool top) const {
  const std::string name = written_text(key, quotes_) + ":";
  const std::string below = std::string(line_end_) + blanks(column + step);
  const bool of_maps = value.kind == CardValue::Kind::list && !value.items.empty() &&
                       value.items.front().kind == CardValue::Kind::map;
  std::string out = name;
  if (top && of_maps) {
    for (const CardValue& item : value.items) out += below + item_text(item, column + step);
    return out;
  }
  if (top && value.kind == CardValue::Kind::map) {
    for (const auto& [inner, entry] : value.entries)
      out += below + entry_text(inner, entry, column + step, false);
    return out;
  }
  return out + " " +
         written_wrapped(value, quotes_, column + name.size() + 1, widest_line, line_end_);
}

std::optional<std::string> TextEditor::with_entry(const Node& map, std::string_view key,
                                                  const CardValue& value) const {
  if (map.kind != NodeKind::map) return std::nullopt;
  if (is_flow(map))
    return into_flow(map, written_text(key, quotes_) + ": " + written_inline(value, quotes_));
  const auto end = end_of_parts(map);
  if (!end) return std::nullopt;
  const std::size_t indent = column(map.entries.front().key.place.begin);
  const bool top = &map == &root_;
  return inserted(line_stop(*end),
                  std::string(line_end_) + blanks(indent) + entry_text(key, value, indent, top));
}

std::optional<std::string> TextEditor::with_item(const Node& list, const CardValue& item) const {
  if (list.kind != NodeKind::list) return std::nullopt;
  if (is_flow(list)) return into_flow(list, written_inline(item, quotes_));
  const auto end = end_of_parts(list);
  if (!end) return std::nullopt;
  const std::size_t indent = column(dash_of(list));
  return inserted(line_stop(*end),
                  std::string(line_end_) + blanks(indent) + item_text(item, indent));
}

}  // namespace slipcase::facts
