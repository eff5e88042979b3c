#include "slipcase/diagnostic.h"

#include <algorithm>
#include <tuple>

#include "support/utf8.h"

namespace slipcase {

namespace {

constexpr std::size_t widest_excerpt = 100;  // columns of a source line that are shown
constexpr std::size_t context_before = 30;
constexpr std::size_t longest_quote = 100;  // characters of what a message quotes

auto sort_key(const Diagnostic& d) {
  const Place place = d.place.value_or(Place{});
  return std::make_tuple(!d.place.has_value() ? 0U : 1U, place, d.severity,
                         std::string_view(d.text));
}

bool says_the_same(const Diagnostic& a, const Diagnostic& b) {
  return a.name == b.name && a.place == b.place && a.text == b.text;
}

struct Cell {
  std::string_view bytes;
  std::size_t width;
  bool marked;
};

std::vector<Cell> cells_of(std::string_view line, std::size_t mark_begin, std::size_t mark_end) {
  std::vector<Cell> cells;
  for (std::size_t at = 0; at < line.size();) {
    const Character character = decode(line.substr(at));
    const std::string_view bytes = line.substr(at, character.length);
    const std::size_t width = bytes == "\t"         ? 4
                              : is_printable(bytes) ? display_width(character.code)
                                                    : 1;
    cells.push_back({bytes, width, at >= mark_begin && at < mark_end});
    at += character.length;
  }
  return cells;
}

std::string shown(const Cell& cell) {
  if (cell.bytes == "\t") return std::string(cell.width, ' ');
  // Control bytes and broken UTF-8 from a hostile file never reach the terminal as they are.
  if (!is_printable(cell.bytes)) return "?";
  return std::string(cell.bytes);
}

// A message quotes what a file holds: that must not break its line, nor bury what to do.
std::string on_one_line(std::string_view text) {
  std::string line;
  std::size_t in_quotes = 0;  // characters behind the opening quote, itself counted
  for (std::size_t at = 0; at < text.size();) {
    const std::string_view bytes = text.substr(at, decode(text.substr(at)).length);
    at += bytes.size();
    if (bytes == "`") {
      in_quotes = in_quotes > 0 ? 0 : 1;
    } else if (in_quotes > 0 && ++in_quotes > longest_quote) {
      if (in_quotes == longest_quote + 1) line += "...";
      continue;
    }
    const bool blank = bytes == "\n" || bytes == "\r" || bytes == "\t";
    line += blank ? " " : is_printable(bytes) ? bytes : "?";
  }
  return line;
}

std::size_t first_cell_to_show(const std::vector<Cell>& cells) {
  const auto marked =
      std::find_if(cells.begin(), cells.end(), [](const Cell& c) { return c.marked; });
  const auto index = static_cast<std::size_t>(marked - cells.begin());
  return cells.size() <= widest_excerpt || index < context_before ? 0 : index - context_before;
}

std::string excerpt(const Place& place, const SourceSet& sources) {
  const std::string_view line = sources.line_at(place.source, place.begin);
  const std::string_view text = sources.text(place.source);
  const auto line_begin = static_cast<std::size_t>(line.data() - text.data());
  const std::size_t mark_begin = place.begin - line_begin;
  const std::size_t mark_end = std::max<std::size_t>(place.end, place.begin + 1) - line_begin;
  const auto cells = cells_of(line, mark_begin, mark_end);
  const std::size_t first = first_cell_to_show(cells);

  std::string source_line = first > 0 ? "... " : "";
  std::string mark_line(source_line.size(), ' ');
  bool any_mark = false;
  for (std::size_t i = first; i < cells.size() && i < first + widest_excerpt; ++i) {
    source_line += shown(cells[i]);
    const char mark = !cells[i].marked ? ' ' : any_mark ? '~' : '^';
    mark_line += std::string(cells[i].width, mark);
    any_mark = any_mark || cells[i].marked;
    if (cells[i].marked && cells[i].width > 1 && mark == '^') {
      std::fill(mark_line.end() - static_cast<std::ptrdiff_t>(cells[i].width) + 1, mark_line.end(),
                '~');
    }
  }
  if (first + widest_excerpt < cells.size()) source_line += " ...";
  if (!any_mark) mark_line += '^';
  while (!mark_line.empty() && mark_line.back() == ' ') mark_line.pop_back();

  const std::string number = std::to_string(sources.position(place.source, place.begin).line);
  const std::string margin(number.size() < 5 ? 5 - number.size() : 0, ' ');
  return margin + number + " | " + source_line + "\n" +
         std::string(margin.size() + number.size(), ' ') + " | " + mark_line + "\n";
}

}  // namespace

Diagnostic& Diagnostics::add(const Message& message, std::optional<Place> place,
                             std::string_view text) {
  list_.push_back({message.name, message.severity, place, on_one_line(text), {}});
  if (message.severity == Severity::error) ++errors_;
  return list_.back();
}

void Diagnostics::append(Diagnostics other) {
  errors_ += other.errors_;
  std::move(other.list_.begin(), other.list_.end(), std::back_inserter(list_));
}

void Diagnostics::sort() {
  std::stable_sort(list_.begin(), list_.end(), [](const Diagnostic& a, const Diagnostic& b) {
    return sort_key(a) < sort_key(b);
  });
  list_.erase(std::unique(list_.begin(), list_.end(), says_the_same), list_.end());
  errors_ =
      static_cast<std::size_t>(std::count_if(list_.begin(), list_.end(), [](const Diagnostic& d) {
        return d.severity == Severity::error;
      }));
}

std::string render(const Diagnostic& diagnostic, const SourceSet& sources) {
  const std::string_view kind = diagnostic.severity == Severity::error ? "error" : "warning";
  std::string out;
  if (diagnostic.place) out += sources.describe(*diagnostic.place) + ": ";
  out += std::string(kind) + ": " + diagnostic.text + " [" + std::string(diagnostic.name) + "]\n";
  if (diagnostic.place) out += excerpt(*diagnostic.place, sources);
  for (const Note& note : diagnostic.notes) {
    out += note.place ? sources.describe(*note.place) + ": note: " + note.text + "\n"
                      : "note: " + note.text + "\n";
    if (note.place) out += excerpt(*note.place, sources);
  }
  return out;
}

}  // namespace slipcase
