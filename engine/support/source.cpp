#include "slipcase/source.h"

#include <algorithm>

namespace slipcase {

namespace {

std::vector<std::uint32_t> find_line_starts(std::string_view text) {
  std::vector<std::uint32_t> starts{0};
  for (std::size_t i = 0; i < text.size(); ++i) {
    // A lone CR (old files) ends a line as CRLF and LF do.
    const bool lone_return = text[i] == '\r' && (i + 1 == text.size() || text[i + 1] != '\n');
    if (text[i] == '\n' || lone_return) starts.push_back(static_cast<std::uint32_t>(i + 1));
  }
  return starts;
}

bool starts_character(char byte) { return (static_cast<unsigned char>(byte) & 0xC0U) != 0x80U; }

}  // namespace

SourceId SourceSet::add(std::string name, std::string text, Origin origin) {
  auto starts = find_line_starts(text);
  sources_.push_back({std::move(name), std::move(text), origin, std::move(starts)});
  return {static_cast<std::uint32_t>(sources_.size() - 1)};
}

std::string_view SourceSet::name(SourceId id) const { return sources_.at(id.at()).name; }
std::string_view SourceSet::text(SourceId id) const { return sources_.at(id.at()).text; }
Origin SourceSet::origin(SourceId id) const { return sources_.at(id.at()).origin; }

LineColumn SourceSet::position(SourceId id, std::uint32_t offset) const {
  const Source& source = sources_.at(id.at());
  const auto next = std::upper_bound(source.line_starts.begin(), source.line_starts.end(), offset);
  const auto line = static_cast<std::uint32_t>(next - source.line_starts.begin());
  const std::uint32_t begin = source.line_starts[line - 1];
  const auto end = std::min<std::size_t>(offset, source.text.size());
  const auto before = std::string_view(source.text).substr(begin, end - begin);
  const auto characters = std::count_if(before.begin(), before.end(), starts_character);
  return {line, static_cast<std::uint32_t>(characters) + 1};
}

std::string_view SourceSet::line_at(SourceId id, std::uint32_t offset) const {
  const Source& source = sources_.at(id.at());
  const auto next = std::upper_bound(source.line_starts.begin(), source.line_starts.end(), offset);
  const std::size_t begin = *(next - 1);
  const std::size_t end = next == source.line_starts.end() ? source.text.size() : *next;
  auto line = std::string_view(source.text).substr(begin, end - begin);
  while (!line.empty() && (line.back() == '\n' || line.back() == '\r')) line.remove_suffix(1);
  return line;
}

std::string_view SourceSet::text_at(const Place& place) const {
  const std::string_view whole = text(place.source);
  const std::size_t begin = std::min<std::size_t>(place.begin, whole.size());
  const std::size_t end = std::clamp<std::size_t>(place.end, begin, whole.size());
  return whole.substr(begin, end - begin);
}

std::string SourceSet::describe(const Place& place) const {
  const LineColumn at = position(place.source, place.begin);
  return std::string(name(place.source)) + ":" + std::to_string(at.line) + ":" +
         std::to_string(at.column);
}

}  // namespace slipcase
