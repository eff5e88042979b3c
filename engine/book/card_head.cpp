#include "book/card_head.h"

#include <algorithm>
#include <array>
#include <string>

#include "facts/job_card.h"

namespace slipcase::book {

namespace {

constexpr std::array<std::string_view, 6> wanted_keys{"job",    "unit",      "vehicle",
                                                      "opened", "complaint", "outcome"};

std::optional<facts::Node> parsed(std::string text) {
  SourceSet sources;
  Diagnostics ignored;
  const SourceId source = sources.add("card", std::move(text));
  auto root = facts::read_document(sources, source, facts::card_limits, ignored);
  if (!root || root->kind != facts::NodeKind::map) return std::nullopt;
  return root;
}

/// The key at the beginning of a line: letters and `_`, then `:`.
std::string_view key_of(std::string_view line) {
  const std::size_t end = line.find_first_not_of("abcdefghijklmnopqrstuvwxyz_");
  const bool is_key = end != 0 && end != std::string_view::npos && line[end] == ':' &&
                      (end + 1 == line.size() || line[end + 1] == ' ' || line[end + 1] == '\r');
  return is_key ? line.substr(0, end) : std::string_view();
}

/// The lines of the wanted entries; of all others the key alone. Nothing where a line at the margin
/// is not the beginning of an entry: only a parser knows what it belongs to.
std::optional<std::string> short_text(std::string_view text) {
  std::string out;
  bool wanted = false;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size() - 1);
    const std::string_view line = text.substr(0, end + 1);
    text.remove_prefix(end + 1);
    const char first = line.front();
    if (first == '#' || first == '\n' || first == '\r') continue;
    if (first == ' ') {
      if (wanted) out += line;
      continue;
    }
    const std::string_view key = key_of(line.substr(0, line.find('\n')));
    if (key.empty()) return std::nullopt;
    wanted = std::find(wanted_keys.begin(), wanted_keys.end(), key) != wanted_keys.end();
    if (wanted)
      out += line;
    else
      out.append(key).append(": left_out\n");
  }
  return out;
}

}  // namespace

std::optional<facts::Node> read_head(std::string_view text) {
  if (auto head = short_text(text))
    if (auto root = parsed(*std::move(head))) return root;
  return parsed(std::string(text));
}

}  // namespace slipcase::book
