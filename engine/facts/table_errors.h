// What is wrong with a table, as many of it as a person reads.
#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <string_view>

#include "slipcase/diagnostic.h"
#include "support/listed.h"

namespace slipcase::facts {

/// Reports the first few errors of each kind, and counts the rest: a column that was exported
/// wrongly is wrong in each row.
class TableErrors {
 public:
  TableErrors(SourceId source, Diagnostics& diagnostics)
      : source_(source), diagnostics_(diagnostics) {}

  void add(const Message& message, std::size_t begin, std::size_t end, std::string_view text);
  /// Says how many more there were.
  void finish();
  [[nodiscard]] bool any() const { return added_ > 0; }

 private:
  SourceId source_;
  Diagnostics& diagnostics_;
  std::size_t added_ = 0;
  std::map<std::string_view, std::size_t> of_kind_;  // how many of each, by the message's name
  std::size_t more_ = 0;
  Place first_more_;
};

/// Whether the text can be a table at all; what it is instead is reported.
[[nodiscard]] bool is_table_text(std::string_view text, TableErrors& errors);

/// "`4,5` in the column `K1` is no number: it has a decimal comma, ..."
[[nodiscard]] std::string no_number_text(std::string_view cell, std::string_view header,
                                         char decimal);

/// A cell as a message shows it.
[[nodiscard]] std::string shortened_cell(std::string_view cell);

}  // namespace slipcase::facts
