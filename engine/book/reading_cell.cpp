#include "book/reading_cell.h"

#include <algorithm>
#include <cmath>

#include <fmt/core.h>

#include "book/cell_date.h"
#include "book/messages.h"
#include "evaluation/messages.h"
#include "evaluation/possible.h"
#include "facts/table_errors.h"
#include "facts/table_messages.h"
#include "facts/table_number.h"

namespace slipcase::book {

namespace {

/// All digits that are needed to read it back, and no `-0`.
std::string quantity_text(double number, const units::Unit* unit) {
  const double shown = number == 0.0 ? 0.0 : number;
  return unit == nullptr ? fmt::format("{}", shown) : fmt::format("{} {}", shown, unit->symbol);
}

}  // namespace

bool CellReader::says_not_learned(std::string_view cell) const {
  return cell == not_learned_text ||
         std::ranges::find(mapping_.not_learned, cell) != mapping_.not_learned.end();
}

std::optional<double> CellReader::number(const ReadingCell& cell) {
  const auto read = facts::cell_number(cell.text, mapping_.format.decimal);
  if (read) return read;
  std::string text = facts::no_number_text(cell.text, cell.header, mapping_.format.decimal);
  if (cell.text.find_first_of("0123456789") == std::string_view::npos)
    text += "; if it says that no value was shown, name it under `not_learned` in the mapping";
  diagnostics_.add(facts::table_not_a_number, cell.place, text);
  return std::nullopt;
}

std::optional<double> CellReader::with_sign(double shown, ColumnSign sign,
                                            const ReadingCell& cell) {
  int bits = 16;
  switch (sign) {
    case ColumnSign::as_shown:
      return shown;
    case ColumnSign::reversed:
      return -shown;
    case ColumnSign::unsigned_16:
      break;
    case ColumnSign::unsigned_32:
      bits = 32;
      break;
  }
  const double all = std::ldexp(1.0, bits);
  if (shown >= 0.0 && shown < all && shown == std::floor(shown))
    return shown < all / 2.0 ? shown : shown - all;
  diagnostics_.add(reading_not_unsigned, cell.place,
                   fmt::format("`{}` is no whole number from 0 to {:.0f}: the column `{}` cannot "
                               "be `sign: unsigned_{}`",
                               facts::shortened_cell(cell.text), all - 1.0,
                               facts::shortened_cell(cell.header), bits));
  return std::nullopt;
}

std::optional<SessionValue> CellReader::value(const ReadingCell& cell, const ReadingColumn& column,
                                              grounding::GroundReading reading) {
  if (says_not_learned(cell.text))
    return SessionValue{reading, std::string(not_learned_text), {}, nullptr, cell.place};
  const auto shown = number(cell);
  const auto meant = shown ? with_sign(*shown, column.sign, cell) : std::nullopt;
  if (!meant) return std::nullopt;
  const auto declaration = rules_.readings.origins[reading.at()].declaration;
  const units::Dimension& dimension = rules_.rules->readings[declaration].dimension;
  const double base =
      column.unit == nullptr ? *meant : units::to_quantity(*meant, *column.unit).value;
  SessionValue value{reading, quantity_text(*meant, column.unit), base, column.unit, cell.place};
  if (!is_possible(value, *shown, column, dimension)) return std::nullopt;
  return value;
}

void CellReader::check(const ReadingCell& cell, const ReadingColumn& column) {
  if (says_not_learned(cell.text)) return;
  if (const auto shown = number(cell)) (void)with_sign(*shown, column.sign, cell);
}

bool CellReader::is_possible(const SessionValue& value, double shown, const ReadingColumn& column,
                             const units::Dimension& dimension) {
  const auto& bounds = rules_.bounds[value.reading.at()];
  if (!bounds || evaluation::is_possible(*bounds, value.value.value_or(0.0))) return true;
  std::string text = evaluation::impossible_text(rules_, value.reading, value.text, dimension);
  const bool may_be_lost = column.unit != nullptr && column.sign == ColumnSign::as_shown;
  if (const auto lost =
          may_be_lost ? evaluation::lost_sign(shown, *column.unit, *bounds) : std::nullopt)
    text += fmt::format(
        "; it looks like {} shown without its sign: say `sign: unsigned_{}` of "
        "this column in the mapping",
        lost->meant, lost->bits);
  diagnostics_.add(evaluation::impossible_value, value.place, text);
  return false;
}

std::optional<facts::Scalar> CellReader::quantity(const ReadingCell& cell,
                                                  const units::Unit* unit) {
  const auto shown = number(cell);
  if (!shown) return std::nullopt;
  return facts::Scalar{quantity_text(*shown, unit), cell.place};
}

std::optional<facts::Scalar> CellReader::date(const ReadingCell& cell) {
  if (const auto moment = cell_moment(cell.text, mapping_.day_first))
    return facts::Scalar{moment->text(), cell.place};
  const bool other = cell_moment(cell.text, !mapping_.day_first).has_value();
  std::string text =
      fmt::format("`{}` in the column `{}` is no day ", facts::shortened_cell(cell.text),
                  facts::shortened_cell(cell.header));
  text += mapping_.day_first ? "that is written day, month, year"
                             : "that is written year first, such as 2031-04-17";
  if (other)
    text += mapping_.day_first
                ? ": it has its year first, take `date_order` out of the mapping"
                : ": if its day comes first, say `date_order: day_month_year` in the mapping";
  diagnostics_.add(reading_date_shape, cell.place, text);
  return std::nullopt;
}

}  // namespace slipcase::book
