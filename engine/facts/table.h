// A table as loggers and spreadsheets write it (CSV), read into columns of numbers.
//
// What a column means is not known here: a mapping names the columns that are wanted. A row is a
// line; a cell in quotes may hold the delimiter, but no line end. Made for logs of a million rows:
// numbers go into vectors as they are read, and no cell becomes a text of its own.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "facts/scalar.h"
#include "slipcase/diagnostic.h"
#include "slipcase/source.h"
#include "units/quantity.h"

namespace slipcase::facts {

/// For whoever reads the file: two hours at 100 Hz with eight columns are about 40 MB.
inline constexpr std::size_t most_table_bytes = std::size_t{256} << 20U;
inline constexpr std::size_t most_table_columns = 1000;

struct TableFormat {
  std::optional<char> delimiter;         // none: the likeliest of the header line
  char decimal = '.';                    // or ','
  std::uint32_t lines_above_header = 0;  // passed over unread
  std::uint32_t lines_below_header = 0;  // such as a line of units
};

enum class CellKind : std::uint8_t { number, text };

struct WantedColumn {
  Scalar header;  // the column's name, with its place in the mapping
  CellKind kind = CellKind::number;
  const units::Unit* unit = nullptr;  // of what is written; null: numbers stay as they are
  bool may_be_empty = false;
};

/// One of the two is filled, a value for each row.
struct TableColumn {
  std::vector<double> numbers;       // in the base unit of the dimension; NaN: an empty cell
  std::vector<std::uint32_t> texts;  // places in `words`
  std::vector<std::string> words;    // every text of the column once; the first is the empty one
};

struct Table {
  SourceId source;
  char delimiter = ',';
  std::vector<Scalar> header;
  std::vector<TableColumn> columns;       // as they were wanted
  std::vector<std::size_t> in_file;       // of each of them: which column of the file it is
  std::vector<std::uint32_t> row_begins;  // where each row stands in the text

  [[nodiscard]] std::size_t rows() const { return row_begins.size(); }
  /// The whole line of a row.
  [[nodiscard]] Place row_place(const SourceSet& sources, std::size_t row) const;
  /// The cell of a column that was wanted, by its place among them.
  [[nodiscard]] Place cell_place(const SourceSet& sources, std::size_t row,
                                 std::size_t column) const;
};

/// All errors are reported, up to as many as a person reads; nothing comes back if there was one. A
/// table without a row is an error. Rows of which every cell is empty are passed over.
[[nodiscard]] std::optional<Table> read_table(const SourceSet& sources, SourceId source,
                                              const TableFormat& format,
                                              std::span<const WantedColumn> wanted,
                                              Diagnostics& diagnostics);

}  // namespace slipcase::facts
