#include "facts/yaml_place.h"

#include <algorithm>

namespace slipcase::facts {

namespace {

bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\r' || c == '\n'; }

}  // namespace

std::optional<std::size_t> end_of_quoted(std::string_view text, std::size_t begin) {
  const char quote = text[begin];
  for (std::size_t at = begin + 1; at < text.size(); ++at) {
    if (quote == '"' && text[at] == '\\') {
      ++at;
    } else if (text[at] == quote) {
      const bool doubled = quote == '\'' && at + 1 < text.size() && text[at + 1] == quote;
      if (!doubled) return at + 1;
      ++at;
    }
  }
  return std::nullopt;
}

std::size_t end_of_plain(std::string_view text, std::size_t begin, std::string_view value) {
  std::size_t at = begin;
  for (const char c : value) {
    if (is_blank(c)) {
      while (at < text.size() && is_blank(text[at])) ++at;
    } else if (at < text.size() && text[at] == c) {
      ++at;
    } else {
      break;
    }
  }
  while (at > begin && is_blank(text[at - 1])) --at;
  return std::max(at, std::min(begin + 1, text.size()));
}

// Walks back over blanks only: it is asked for every value of a text, and lines may be long.
std::optional<std::size_t> tab_before(std::string_view text, std::size_t at) {
  std::size_t begin = std::min(at, text.size());
  while (begin > 0 && (text[begin - 1] == ' ' || text[begin - 1] == '\t')) --begin;
  const bool at_line_begin = begin == 0 || text[begin - 1] == '\n' || text[begin - 1] == '\r';
  const std::size_t tab = text.substr(begin, at - begin).find('\t');
  if (!at_line_begin || tab == std::string_view::npos) return std::nullopt;
  return begin + tab;
}

}  // namespace slipcase::facts
