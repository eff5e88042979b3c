// The lines of a table's text, and one line cut into cells by libcsv.
#pragma once

#include <cstddef>
#include <memory>
#include <string_view>

namespace slipcase::facts {

/// Where the line that begins at `begin` ends, its line end included.
[[nodiscard]] std::size_t end_of_line(std::string_view text, std::size_t begin);

/// Where the text begins behind a byte order mark.
[[nodiscard]] std::size_t behind_byte_order_mark(std::string_view text);

/// Nothing but blanks and its line end.
[[nodiscard]] bool is_blank(std::string_view line);

/// The delimiter that stands most often in the line, outside of quotes; a comma where there is
/// none.
[[nodiscard]] char likeliest_delimiter(std::string_view line);

/// Where cell number `index` of a line stands in it, with its quotes and without blanks around.
struct CellRange {
  std::size_t begin = 0;
  std::size_t end = 0;
};
[[nodiscard]] CellRange cell_range(std::string_view line, char delimiter, std::size_t index);

/// Hands the cells of a line to whoever takes them.
class CellTaker {
 public:
  CellTaker() = default;
  CellTaker(const CellTaker&) = delete;
  CellTaker& operator=(const CellTaker&) = delete;
  virtual ~CellTaker() = default;

  virtual void take(std::string_view cell) = 0;
};

class LineCutter {
 public:
  explicit LineCutter(char delimiter);
  ~LineCutter();
  LineCutter(const LineCutter&) = delete;
  LineCutter& operator=(const LineCutter&) = delete;

  /// False where a quote is open at the end of the line. The taker may throw.
  bool cut(std::string_view line, CellTaker& taker);

 private:
  struct State;

  std::unique_ptr<State> state_;
};

}  // namespace slipcase::facts
