#include "facts/table_errors.h"

#include <algorithm>

#include <fmt/core.h>

#include "facts/document_messages.h"
#include "facts/table_messages.h"
#include "facts/table_number.h"
#include "support/utf8.h"

namespace slipcase::facts {

namespace {

constexpr std::size_t most_alike = 10;

}  // namespace

void TableErrors::add(const Message& message, std::size_t begin, std::size_t end,
                      std::string_view text) {
  const Place place{source_, static_cast<std::uint32_t>(begin), static_cast<std::uint32_t>(end)};
  if (added_ < most_messages && of_kind_[message.name]++ < most_alike) {
    diagnostics_.add(message, place, text);
  } else if (more_++ == 0) {
    first_more_ = place;
  }
  ++added_;
}

void TableErrors::finish() {
  if (more_ > 0) add_not_listed(diagnostics_, Severity::error, more_, first_more_);
}

bool is_table_text(std::string_view text, TableErrors& errors) {
  if (const std::size_t zero = text.find('\0'); zero != std::string_view::npos) {
    errors.add(table_binary, zero, zero + 1,
               "this is no text but binary data (or UTF-16): export the table as CSV in UTF-8");
    return false;
  }
  const bool plain =
      std::all_of(text.begin(), text.end(), [](char c) { return (c & '\x80') == 0; });
  const auto invalid = plain ? std::nullopt : first_invalid(text);
  if (invalid) {
    errors.add(text_not_utf8, *invalid, *invalid + 1,
               "this byte is not UTF-8: export the table in UTF-8");
    return false;
  }
  for (std::size_t at = text.find('\r'); at != std::string_view::npos;
       at = text.find('\r', at + 1)) {
    if (at + 1 == text.size() || text[at + 1] == '\n') continue;
    errors.add(table_line_end, at, at + 1,
               "a line ends here with a carriage return alone: export the table with usual line "
               "ends");
    return false;
  }
  return true;
}

std::string no_number_text(std::string_view cell, std::string_view header, char decimal) {
  const bool other_sign = cell_number(cell, decimal == '.' ? ',' : '.').has_value();
  std::string hint;
  if (other_sign) {
    hint = decimal == '.' ? ": it has a decimal comma, say `decimal: comma` in the mapping"
                          : ": it has a decimal point, and the mapping says comma";
  }
  return fmt::format("`{}` in the column `{}` is no number{}", shortened_cell(cell),
                     shortened_cell(header), hint);
}

std::string shortened_cell(std::string_view cell) {
  constexpr std::size_t most = 40;
  if (cell.size() <= most) return std::string(cell);
  std::size_t end = most;
  while (end > 0 && (static_cast<unsigned char>(cell[end]) & 0xC0U) == 0x80U) --end;
  return std::string(cell.substr(0, end)) + "...";
}

}  // namespace slipcase::facts
