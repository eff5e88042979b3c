#include "facts/table_lines.h"

#include <algorithm>
#include <array>
#include <csv.h>
#include <exception>
#include <new>
#include <utility>

namespace slipcase::facts {

namespace {

constexpr std::string_view table_mark = "\xEF\xBB\xBF";

bool is_space(char c) { return c == ' ' || c == '\t' || c == '\r' || c == '\n'; }

}  // namespace

std::size_t end_of_line(std::string_view text, std::size_t begin) {
  const std::size_t end = text.find('\n', begin);
  return end == std::string_view::npos ? text.size() : end + 1;
}

std::size_t behind_byte_order_mark(std::string_view text) {
  return text.starts_with(table_mark) ? table_mark.size() : 0;
}

bool is_blank(std::string_view line) { return std::all_of(line.begin(), line.end(), is_space); }

char likeliest_delimiter(std::string_view line) {
  constexpr std::string_view delimiters = ",;\t";
  std::array<std::size_t, delimiters.size()> count{};
  bool quoted = false;
  for (const char c : line) {
    if (c == '"') quoted = !quoted;
    const std::size_t at = delimiters.find(c);
    if (!quoted && at != std::string_view::npos) ++count[at];
  }
  const auto most = std::max_element(count.begin(), count.end());
  return delimiters[static_cast<std::size_t>(most - count.begin())];
}

CellRange cell_range(std::string_view line, char delimiter, std::size_t index) {
  std::size_t begin = 0;
  bool quoted = false;
  std::size_t at = 0;
  for (; at < line.size(); ++at) {
    if (line[at] == '"') quoted = !quoted;
    if (quoted || line[at] != delimiter) continue;
    if (index == 0) break;
    --index;
    begin = at + 1;
  }
  CellRange range{begin, at};
  while (range.end > range.begin && is_space(line[range.end - 1])) --range.end;
  while (range.begin < range.end && is_space(line[range.begin])) ++range.begin;
  return range;
}

/// What libcsv is given to hand back. Nothing may be thrown through its C code, so what the taker
/// throws waits here.
struct LineCutter::State {
  csv_parser parser{};
  CellTaker* taker = nullptr;
  bool ended = false;
  std::exception_ptr thrown;

  static void on_cell(void* text, std::size_t length, void* data) noexcept {
    auto& state = *static_cast<State*>(data);
    if (state.thrown) return;
    try {
      state.taker->take({static_cast<const char*>(text), length});
    } catch (...) {
      state.thrown = std::current_exception();
    }
  }
  static void on_row(int, void* data) noexcept { static_cast<State*>(data)->ended = true; }

  void feed(std::string_view text) {
    if (csv_parse(&parser, text.data(), text.size(), &on_cell, &on_row, this) != text.size())
      throw std::bad_alloc();  // outside of its strict mode nothing else can stop it
  }
};

LineCutter::LineCutter(char delimiter) : state_(std::make_unique<State>()) {
  csv_init(&state_->parser, 0);
  csv_set_delim(&state_->parser, static_cast<unsigned char>(delimiter));
}

LineCutter::~LineCutter() { csv_free(&state_->parser); }

bool LineCutter::cut(std::string_view line, CellTaker& taker) {
  state_->taker = &taker;
  state_->ended = false;
  state_->feed(line);
  if (!line.ends_with('\n')) state_->feed("\n");
  const bool closed = state_->ended;
  // Forgets an open quote: the next line is a row again.
  if (!closed) csv_fini(&state_->parser, nullptr, nullptr, nullptr);
  if (state_->thrown) std::rethrow_exception(std::exchange(state_->thrown, nullptr));
  return closed;
}

}  // namespace slipcase::facts
