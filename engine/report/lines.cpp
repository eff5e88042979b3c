#include "report/lines.h"

#include <algorithm>
#include <vector>

#include "support/utf8.h"

namespace slipcase::report {

namespace {

std::vector<std::string_view> words_of(std::string_view text) {
  std::vector<std::string_view> words;
  while (!text.empty()) {
    const std::size_t start = text.find_first_not_of(" \n\t\r");
    if (start == std::string_view::npos) break;
    const std::size_t end = std::min(text.find_first_of(" \n\t\r", start), text.size());
    words.push_back(text.substr(start, end - start));
    text.remove_prefix(end);
  }
  return words;
}

}  // namespace

std::size_t columns(std::string_view text) {
  std::size_t width = 0;
  for (std::size_t at = 0; at < text.size();) {
    const Character character = decode(text.substr(at));
    width += display_width(character.code);
    at += character.length;
  }
  return width;
}

std::string wrapped(std::string_view text, std::size_t width, std::size_t indent,
                    std::size_t hanging) {
  std::string out(indent, ' ');
  std::size_t used = indent;
  bool fresh_line = true;
  for (const std::string_view word : words_of(text)) {
    const std::size_t needed = columns(word) + (fresh_line ? 0 : 1);
    if (!fresh_line && used + needed > width) {
      out += "\n" + std::string(indent + hanging, ' ');
      used = indent + hanging;
      fresh_line = true;
    }
    if (!fresh_line) out += ' ';
    out += word;
    used += columns(word) + (fresh_line ? 0 : 1);
    fresh_line = false;
  }
  return out + "\n";
}

std::string led(std::string_view lead, std::size_t lead_width, std::string_view text,
                std::size_t width) {
  std::string out = wrapped(text, width, lead_width, 0);
  out.replace(0, std::min(lead_width, columns(lead)), lead);
  return out;
}

std::string two_sided(std::string_view left, std::string_view right, std::size_t width,
                      std::size_t indent, std::size_t hanging) {
  constexpr std::size_t least_left = 16;
  const std::size_t right_width = columns(right);
  const bool side_by_side = width >= indent + least_left + 2 + right_width;
  if (!side_by_side) {
    return wrapped(left, width, indent, hanging) + wrapped(right, width, indent + hanging, 0);
  }
  std::string lines = wrapped(left, width - right_width - 2, indent, hanging);
  const std::size_t first_end = lines.find('\n');
  const std::size_t first_width = columns(std::string_view(lines).substr(0, first_end));
  // A word too long for its line pushes the right text on by two blanks.
  const std::size_t used = std::min(first_width + right_width + 2, width);
  const std::size_t gap = first_width + right_width + 2 > width ? 2 : 2 + width - used;
  lines.insert(first_end, std::string(gap, ' ') + std::string(right));
  return lines;
}

std::string heading(std::string_view text, const TextStyle& style) {
  return style.colour ? "\x1b[1m" + std::string(text) + "\x1b[0m\n" : std::string(text) + "\n";
}

std::size_t usable_width(const TextStyle& style) { return std::max<std::size_t>(style.width, 40); }

}  // namespace slipcase::report
