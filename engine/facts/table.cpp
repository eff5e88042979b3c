#include "facts/table.h"

#include <algorithm>
#include <functional>
#include <limits>
#include <map>
#include <string_view>

#include <fmt/core.h>

#include "facts/document_messages.h"
#include "facts/table_errors.h"
#include "facts/table_lines.h"
#include "facts/table_messages.h"
#include "facts/table_number.h"
#include "support/suggest.h"

namespace slipcase::facts {

namespace {

constexpr std::size_t unwanted = std::numeric_limits<std::size_t>::max();
constexpr double no_number = std::numeric_limits<double>::quiet_NaN();

class HeaderTaker : public CellTaker {
 public:
  void take(std::string_view cell) override { cells.emplace_back(cell); }

  std::vector<std::string> cells;
};

class TableReader : public CellTaker {
 public:
  TableReader(const SourceSet& sources, SourceId source, const TableFormat& format,
              std::span<const WantedColumn> wanted, Diagnostics& diagnostics)
      : text_(sources.text(source)),
        format_(format),
        wanted_(wanted),
        diagnostics_(diagnostics),
        errors_(source, diagnostics) {
    table_.source = source;
  }

  std::optional<Table> read() {
    const std::size_t errors_before = diagnostics_.error_count();
    if (text_.size() > most_table_bytes) {
      diagnostics_.add(
          text_too_large, std::nullopt,
          fmt::format("a table of more than {} MB is not read", most_table_bytes >> 20U));
    } else if (is_table_text(text_, errors_) && read_header()) {
      read_rows();
    }
    errors_.finish();
    if (diagnostics_.error_count() != errors_before) return std::nullopt;
    return std::move(table_);
  }

  void take(std::string_view cell) override {
    const std::size_t column = cell_++;
    if (!cell.empty()) last_filled_ = cell_;
    if (column >= wanted_as_.size()) return;
    const std::size_t as = wanted_as_[column];
    if (as == unwanted) return;
    if (wanted_[as].kind == CellKind::text) {
      take_text(as, cell);
    } else {
      take_number(as, column, cell);
    }
  }

 private:
  // --- The header -------------------------------------------------------------------------------

  /// The next line that is not blank; its end is where the one after it begins.
  bool next_line() {
    while (at_ < text_.size()) {
      line_begin_ = at_;
      at_ = end_of_line(text_, at_);
      line_ = text_.substr(line_begin_, at_ - line_begin_);
      if (!is_blank(line_)) return true;
    }
    return false;
  }

  void pass_over(std::uint32_t lines) {
    for (std::uint32_t i = 0; i < lines && at_ < text_.size(); ++i) at_ = end_of_line(text_, at_);
  }

  bool read_header() {
    at_ = behind_byte_order_mark(text_);
    pass_over(format_.lines_above_header);
    if (!next_line()) {
      errors_.add(table_empty, 0, 0, "there is no table in this file: a header line is expected");
      return false;
    }
    table_.delimiter = format_.delimiter.value_or(likeliest_delimiter(line_));
    HeaderTaker names;
    if (!LineCutter(table_.delimiter).cut(line_, names)) return report_open_quote();
    for (std::size_t i = 0; i < names.cells.size(); ++i) {
      const CellRange range = cell_range(line_, table_.delimiter, i);
      table_.header.push_back({std::move(names.cells[i]), place(range)});
    }
    if (table_.header.size() > most_table_columns) {
      errors_.add(table_too_wide, line_begin_, at_,
                  fmt::format("a table of {} columns is not read, at most {}", table_.header.size(),
                              most_table_columns));
      return false;
    }
    pass_over(format_.lines_below_header);
    return find_columns();
  }

  [[nodiscard]] Place place(const CellRange& range) const {
    return {table_.source, static_cast<std::uint32_t>(line_begin_ + range.begin),
            static_cast<std::uint32_t>(line_begin_ + range.end)};
  }

  bool find_columns() {
    wanted_as_.assign(table_.header.size(), unwanted);
    table_.columns.resize(wanted_.size());
    table_.in_file.resize(wanted_.size());
    words_.resize(wanted_.size());
    bool found_all = true;
    for (std::size_t i = 0; i < wanted_.size(); ++i) {
      if (wanted_[i].kind == CellKind::text) add_empty_word(i);
      const auto column = find_column(wanted_[i].header);
      found_all = found_all && column.has_value();
      if (!column) continue;
      wanted_as_[*column] = i;
      table_.in_file[i] = *column;
    }
    return found_all;
  }

  void add_empty_word(std::size_t as) {
    table_.columns[as].words.emplace_back();
    words_[as].emplace(std::string(), 0);
  }

  std::optional<std::size_t> find_column(const Scalar& name) {
    std::vector<std::string> names;
    std::optional<std::size_t> found;
    for (std::size_t i = 0; i < table_.header.size(); ++i) {
      const Scalar& header = table_.header[i];
      if (!header.text.empty()) names.push_back(header.text);
      if (header.text != name.text) continue;
      if (found) {
        errors_.add(table_column_twice, header.place.begin, header.place.end,
                    fmt::format("two columns are called `{}`", shortened_cell(name.text)));
        return std::nullopt;
      }
      found = i;
    }
    if (!found) report_no_column(name, names);
    return found;
  }

  void report_no_column(const Scalar& name, const std::vector<std::string>& names) {
    const std::string near = did_you_mean(name.text, names);
    Diagnostic& said = diagnostics_.add(
        table_no_column, name.place,
        fmt::format("the table has no column `{}`{}", shortened_cell(name.text),
                    near.empty() ? fmt::format("; it has {}", quoted_list(names)) : near));
    said.notes.push_back({place({0, line_.size()}), "its columns are named here"});
  }

  // --- The rows ---------------------------------------------------------------------------------

  void read_rows() {
    reserve();
    LineCutter cutter(table_.delimiter);
    while (next_line()) {
      cell_ = 0;
      last_filled_ = 0;
      row_faulty_ = false;
      const bool closed = cutter.cut(line_, *this);
      if (!closed) report_open_quote();
      if (closed && last_filled_ > 0) {
        check_width();
        if (cell_ >= table_.header.size()) check_empty_cells();
      }
      end_row(closed && last_filled_ > 0);
    }
    if (table_.row_begins.empty() && !errors_.any()) {
      errors_.add(table_empty, table_.header.front().place.begin, table_.header.back().place.end,
                  "there is nothing below the header of this table");
    }
  }

  /// Lines that hold as much as the last of the header or less are the rule.
  void reserve() {
    constexpr std::size_t shortest_row = 16;
    const auto lines = static_cast<std::size_t>(std::count(text_.begin(), text_.end(), '\n')) + 1;
    const std::size_t rows = std::min(lines, text_.size() / shortest_row + 1);
    table_.row_begins.reserve(rows);
    for (std::size_t i = 0; i < wanted_.size(); ++i) {
      if (wanted_[i].kind == CellKind::text)
        table_.columns[i].texts.reserve(rows);
      else
        table_.columns[i].numbers.reserve(rows);
    }
  }

  void take_number(std::size_t as, std::size_t column, std::string_view cell) {
    std::vector<double>& numbers = table_.columns[as].numbers;
    if (cell.empty()) {
      numbers.push_back(no_number);
      return;
    }
    const auto number = cell_number(cell, format_.decimal);
    if (!number) report_no_number(as, column, cell);
    const units::Unit* unit = wanted_[as].unit;
    const double value = number.value_or(no_number);
    numbers.push_back(
        unit == nullptr ? value : (value + unit->offset) * unit->numerator / unit->denominator);
  }

  /// Most cells of such a column say what the one above says.
  void take_text(std::size_t as, std::string_view cell) {
    TableColumn& column = table_.columns[as];
    if (!column.texts.empty() && column.words[column.texts.back()] == cell) {
      column.texts.push_back(column.texts.back());
      return;
    }
    auto& known = words_[as];
    const auto found = known.find(cell);
    if (found != known.end()) {
      column.texts.push_back(found->second);
      return;
    }
    const auto word = static_cast<std::uint32_t>(column.words.size());
    column.words.emplace_back(cell);
    known.emplace(column.words.back(), word);
    column.texts.push_back(word);
  }

  void check_width() {
    const std::size_t expected = table_.header.size();
    // Empty cells behind the last one are what a spreadsheet leaves.
    if (cell_ == expected || (cell_ > expected && last_filled_ <= expected)) return;
    row_faulty_ = true;
    const bool commas = cell_ > expected && table_.delimiter == ',' && format_.decimal == '.';
    errors_.add(table_ragged, line_begin_, line_begin_ + line_.find_last_not_of("\r\n") + 1,
                fmt::format("this row has {} cell{}, the header {}{}", cell_, cell_ == 1 ? "" : "s",
                            expected,
                            commas ? "; is a comma the decimal sign here? Then the delimiter "
                                     "must be another"
                                   : ""));
  }

  void check_empty_cells() {
    for (std::size_t i = 0; i < wanted_.size(); ++i) {
      if (wanted_[i].may_be_empty || !is_last_empty(i)) continue;
      const CellRange range = cell_range(line_, table_.delimiter, table_.in_file[i]);
      if (row_faulty_ && range.begin != range.end) continue;  // a number that was none
      row_faulty_ = true;
      errors_.add(table_cell_empty, line_begin_ + range.begin, line_begin_ + range.end,
                  fmt::format("nothing stands in the column `{}` here",
                              shortened_cell(wanted_[i].header.text)));
    }
  }

  [[nodiscard]] bool is_last_empty(std::size_t i) const {
    const TableColumn& column = table_.columns[i];
    if (wanted_[i].kind == CellKind::text) return column.texts.back() == 0;
    return column.numbers.back() != column.numbers.back();
  }

  void report_no_number(std::size_t as, std::size_t column, std::string_view cell) {
    row_faulty_ = true;
    const CellRange range = cell_range(line_, table_.delimiter, column);
    errors_.add(table_not_a_number, line_begin_ + range.begin, line_begin_ + range.end,
                no_number_text(cell, wanted_[as].header.text, format_.decimal));
  }

  bool report_open_quote() {
    const std::size_t quote = line_.find('"');
    const std::size_t at = quote == std::string_view::npos ? 0 : quote;
    errors_.add(table_quote, line_begin_ + at, line_begin_ + at + 1,
                "a quote is open at the end of this line: a row is one line here");
    return false;
  }

  /// Gives every column one value for a row that counts, none for one that does not.
  void end_row(bool counts) {
    const std::size_t rows = table_.row_begins.size() + (counts ? 1 : 0);
    for (std::size_t i = 0; i < wanted_.size(); ++i) {
      if (wanted_[i].kind == CellKind::text)
        table_.columns[i].texts.resize(rows);
      else
        table_.columns[i].numbers.resize(rows, no_number);
    }
    if (counts) table_.row_begins.push_back(static_cast<std::uint32_t>(line_begin_));
  }

  std::string_view text_;
  TableFormat format_;
  std::span<const WantedColumn> wanted_;
  Diagnostics& diagnostics_;
  TableErrors errors_;
  Table table_;
  std::vector<std::size_t> wanted_as_;  // per column of the file: its place in `wanted_`
  std::vector<std::map<std::string, std::uint32_t, std::less<>>> words_;  // per wanted column

  std::size_t at_ = 0;  // behind the line
  std::size_t line_begin_ = 0;
  std::string_view line_;
  std::size_t cell_ = 0;         // cells of the line so far
  std::size_t last_filled_ = 0;  // how many of them up to the last that is not empty
  bool row_faulty_ = false;
};

}  // namespace

Place Table::row_place(const SourceSet& sources, std::size_t row) const {
  const std::string_view line = sources.line_at(source, row_begins[row]);
  return {source, row_begins[row], row_begins[row] + static_cast<std::uint32_t>(line.size())};
}

Place Table::cell_place(const SourceSet& sources, std::size_t row, std::size_t column) const {
  const std::string_view line = sources.line_at(source, row_begins[row]);
  const CellRange range = cell_range(line, delimiter, in_file[column]);
  return {source, row_begins[row] + static_cast<std::uint32_t>(range.begin),
          row_begins[row] + static_cast<std::uint32_t>(range.end)};
}

std::optional<Table> read_table(const SourceSet& sources, SourceId source,
                                const TableFormat& format, std::span<const WantedColumn> wanted,
                                Diagnostics& diagnostics) {
  return TableReader(sources, source, format, wanted, diagnostics).read();
}

}  // namespace slipcase::facts
