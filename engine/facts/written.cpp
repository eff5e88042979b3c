#include "facts/written.h"

#include <algorithm>

#include <nlohmann/json.hpp>

#include "support/ascii.h"

namespace slipcase::facts {

namespace {

bool is_word_character(char c) {
  const bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
  return is_digit(c) || letter || c == '_' || static_cast<unsigned char>(c) >= 0x80U;
}

/// Far fewer than YAML allows: no reader can take such a text for anything else.
bool is_plain(std::string_view text) {
  if (text.empty() || text.back() == ' ') return false;
  if (text == "null" || text == "Null" || text == "NULL") return false;
  const bool sign = text.front() == '-' || text.front() == '+' || text.front() == '.';
  if (sign ? text.size() < 2 || !is_digit(text[1]) : !is_word_character(text.front())) return false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    constexpr std::string_view others = " ./+-%";
    const char c = text[i];
    if (is_word_character(c) || others.find(c) != std::string_view::npos) continue;
    const bool in_time =
        c == ':' && i > 0 && i + 1 < text.size() && is_digit(text[i - 1]) && is_digit(text[i + 1]);
    if (!in_time) return false;
  }
  return true;
}

std::vector<std::string> parts_of(const CardValue& value, Quotes quotes) {
  std::vector<std::string> parts;
  for (const CardValue& item : value.items) parts.push_back(written_inline(item, quotes));
  for (const auto& [key, entry] : value.entries)
    parts.push_back(written_text(key, quotes) + ": " + written_inline(entry, quotes));
  return parts;
}

std::string_view opening(const CardValue& value) {
  return value.kind == CardValue::Kind::list ? "[" : "{ ";
}
std::string_view closing(const CardValue& value) {
  return value.kind == CardValue::Kind::list ? "]" : " }";
}

}  // namespace

std::string written_text(std::string_view text, Quotes quotes) {
  if (quotes == Quotes::where_needed && is_plain(text)) return std::string(text);
  return nlohmann::json(std::string(text))
      .dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
}

std::string written_inline(const CardValue& value, Quotes quotes) {
  if (value.kind == CardValue::Kind::text) return written_text(value.text, quotes);
  std::string out(opening(value));
  const std::vector<std::string> parts = parts_of(value, quotes);
  for (std::size_t i = 0; i < parts.size(); ++i) out += (i > 0 ? ", " : "") + parts[i];
  return out.append(closing(value));
}

std::string written_wrapped(const CardValue& value, Quotes quotes, std::size_t column,
                            std::size_t width, std::string_view line_end) {
  const std::string one_line = written_inline(value, quotes);
  if (value.kind == CardValue::Kind::text || column + one_line.size() <= width) return one_line;
  std::string out(opening(value));
  const std::size_t indent = column + out.size();
  std::size_t at = indent;
  const std::vector<std::string> parts = parts_of(value, quotes);
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (i > 0 && at + parts[i].size() + 2 > width) {
      out.append(",").append(line_end).append(indent, ' ');
      at = indent;
    } else if (i > 0) {
      out.append(", ");
      at += 2;
    }
    out += parts[i];
    at += parts[i].size();
  }
  return out.append(closing(value));
}

}  // namespace slipcase::facts
