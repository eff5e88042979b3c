#include "facts/document.h"

#include <algorithm>

#include <fmt/core.h>

#include "facts/document_messages.h"
#include "facts/read_syntax.h"
#include "support/utf8.h"

namespace slipcase::facts {

namespace {

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

std::uint32_t offset(std::size_t at) { return static_cast<std::uint32_t>(at); }

bool is_forbidden(char c) {
  const auto byte = static_cast<unsigned char>(c);
  return (byte < 0x20 && c != '\n' && c != '\r' && c != '\t') || byte == 0x7F;
}

// Binary files, other encodings and bytes that would upset a terminal, before any parser sees them.
bool is_readable_text(std::string_view text, SourceId source, const DocumentLimits& limits,
                      Diagnostics& diagnostics) {
  if (text.size() > limits.most_bytes) {
    diagnostics.add(
        text_too_large, std::nullopt,
        fmt::format("this text has more than the {} bytes that such a file may have: is it the "
                    "right one?",
                    limits.most_bytes));
    return false;
  }
  const bool utf16 = text.starts_with("\xFF\xFE") || text.starts_with("\xFE\xFF");
  if (const auto at = first_invalid(text)) {
    diagnostics.add(text_not_utf8, Place{source, offset(*at), offset(*at + 1)},
                    utf16 ? "this file is saved as UTF-16: save it as UTF-8"
                          : "this byte is not UTF-8: is this a text file? If so, save it as UTF-8");
    return false;
  }
  const auto control = std::find_if(text.begin(), text.end(), is_forbidden);
  if (control == text.end()) return true;
  const auto at = static_cast<std::size_t>(control - text.begin());
  diagnostics.add(text_control_character, Place{source, offset(at), offset(at + 1)},
                  fmt::format("there is a control character (byte {}) here: is this a text file?",
                              static_cast<int>(*control)));
  return false;
}

// `{job: J-1}` is YAML, `{"job": ` was meant as JSON.
bool was_meant_as_json(std::string_view text, std::size_t begin) {
  if (text[begin] == '[') return true;
  const std::size_t next = text.find_first_not_of(" \t\r\n", begin + 1);
  return next == std::string_view::npos || text[next] == '"' || text[next] == '}';
}

std::optional<Node> read_json_or_flow(const SyntaxInput& input, std::size_t begin,
                                      Diagnostics& diagnostics) {
  Diagnostics json;
  const SyntaxResult as_json = read_json(input, json);
  if (!as_json.syntax_error) {
    diagnostics.append(std::move(json));
    return as_json.root;
  }
  Diagnostics yaml;
  const SyntaxResult as_yaml = read_yaml(input, yaml);
  // Between braces YAML takes the signs of a comment for a part of a name.
  const bool commented = json.list().back().name == json_comment.name;
  const bool show_json =
      commented || (as_yaml.syntax_error && was_meant_as_json(input.text, begin));
  diagnostics.append(show_json ? std::move(json) : std::move(yaml));
  return commented ? std::nullopt : as_yaml.root;
}

}  // namespace

const Node* Node::find(std::string_view key) const {
  const auto found = std::find_if(entries.begin(), entries.end(),
                                  [key](const NodeEntry& entry) { return entry.key.text == key; });
  return found == entries.end() ? nullptr : &found->value;
}

std::optional<Node> read_document(const SourceSet& sources, SourceId source,
                                  const DocumentLimits& limits, Diagnostics& diagnostics) {
  const std::string_view text = sources.text(source);
  if (!is_readable_text(text, source, limits, diagnostics)) return std::nullopt;
  const std::size_t start = text.starts_with(byte_order_mark) ? byte_order_mark.size() : 0;
  const SyntaxInput input{text, start, source, limits};
  const std::size_t first = text.find_first_not_of(" \t\r\n", start);
  if (first != std::string_view::npos && (text[first] == '{' || text[first] == '[')) {
    return read_json_or_flow(input, first, diagnostics);
  }
  return read_yaml(input, diagnostics).root;
}

}  // namespace slipcase::facts
