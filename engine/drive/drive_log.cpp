#include "drive/drive_log.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/core.h>

#include "drive/messages.h"
#include "facts/table.h"
#include "facts/table_number.h"
#include "support/listed.h"
#include "support/suggest.h"
#include "units/quantity.h"

namespace slipcase::drive {

namespace {

using facts::Table;

constexpr double longest_carry = 5000.0;  // ms; docs/learning-drive.md tells it
constexpr std::size_t most_alike = 5;     // messages of one kind about one column

/// What no vehicle shows: a column that holds more was mapped wrongly, or in another unit.
struct Possible {
  Meaning meaning;
  double low;
  double high;
};
constexpr std::array<Possible, 5> possible = {{
    {Meaning::vehicle_speed, -30.0, 120.0},         // m/s
    {Meaning::turbine_speed, -15'000.0, 15'000.0},  // rpm
    {Meaning::output_speed, -15'000.0, 15'000.0},   // rpm
    {Meaning::pedal, -0.05, 1.2},                   // 0 to 1; some sensors go a little over
    {Meaning::fluid_temperature, -60.0, 250.0},     // °C
}};

class LogReader {
 public:
  LogReader(const SourceSet& sources, Table table, const LogMapping& mapping,
            const profile::Profile& unit, Diagnostics& diagnostics)
      : sources_(sources),
        table_(std::move(table)),
        mapping_(mapping),
        unit_(unit),
        diagnostics_(diagnostics) {}

  std::optional<DriveLog> read() {
    check_time();
    for (const Possible& one : possible) check_possible(one);
    read_gears();
    if (diagnostics_.has_errors()) return std::nullopt;
    log_.line = lines();
    take(Meaning::time, log_.time);
    take(Meaning::vehicle_speed, log_.speed);
    take(Meaning::pedal, log_.pedal);
    take(Meaning::fluid_temperature, log_.fluid);
    take(Meaning::turbine_speed, log_.turbine);
    take(Meaning::output_speed, log_.output);
    if (diagnostics_.has_errors()) return std::nullopt;
    for (std::vector<double>* values : {&log_.speed, &log_.pedal, &log_.fluid}) carry(*values);
    for (std::vector<double>* values : {&log_.turbine, &log_.output}) carry_on(*values);
    // Reverse may be logged with a sign or without.
    for (double& speed : log_.speed) speed = std::abs(speed);
    return std::move(log_);
  }

 private:
  /// Reports the first rows of a kind, and how many more there are.
  template <class Wrong, class Text>
  void report_rows(const Message& message, std::size_t column, const Wrong& is_wrong,
                   const Text& text) {
    std::size_t reported = 0;
    std::size_t more = 0;
    Place first_more;
    for (std::size_t row = 0; row < table_.rows(); ++row) {
      if (!is_wrong(row)) continue;
      const Place place = table_.cell_place(sources_, row, column);
      if (reported++ < most_alike) {
        diagnostics_.add(message, place, text(row));
      } else if (more++ == 0) {
        first_more = place;
      }
    }
    if (more > 0) add_not_listed(diagnostics_, Severity::error, more, first_more);
  }

  [[nodiscard]] const std::vector<double>& numbers(std::size_t column) const {
    return table_.columns[column].numbers;
  }

  void check_time() {
    const std::size_t column = *mapping_.at(Meaning::time);
    const std::vector<double>& time = numbers(column);
    if (table_.rows() < 2) {
      diagnostics_.add(log_too_short, table_.row_place(sources_, 0),
                       "a log of one row is no drive");
    }
    report_rows(
        time_backwards, column,
        [&](std::size_t row) { return row > 0 && time[row] < time[row - 1]; },
        [&](std::size_t row) {
          return fmt::format(
              "time runs backwards here, from {} to {}: logs that were joined are "
              "to be checked one by one",
              seconds(time[row - 1]), seconds(time[row]));
        });
  }

  static std::string seconds(double milliseconds) {
    return fmt::format("{:.10g} s", milliseconds / 1000.0);
  }

  void check_possible(const Possible& bounds) {
    const auto column = mapping_.at(bounds.meaning);
    if (!column) return;
    const std::vector<double>& values = numbers(*column);
    const units::Unit& unit = *mapping_.wanted[*column].unit;
    const auto text = [&](double value) { return units::to_text({value, unit.dimension}, unit); };
    report_rows(
        value_impossible, *column,
        [&](std::size_t row) { return values[row] < bounds.low || values[row] > bounds.high; },
        [&](std::size_t row) {
          return fmt::format("`{}` of {} is not possible, {} to {} is: is the column's unit right?",
                             name_of(bounds.meaning), text(values[row]), text(bounds.low),
                             text(bounds.high));
        });
  }

  // --- The gear ---------------------------------------------------------------------------------

  void read_gears() {
    const auto column = mapping_.at(Meaning::gear);
    if (!column) return;
    const facts::TableColumn& cells = table_.columns[*column];
    std::vector<GearCode> codes;
    for (std::size_t word = 0; word < cells.words.size(); ++word) {
      const auto code = gear_of(cells.words[word]);
      if (!code) report_gear(cells, *column, word);
      codes.push_back(code.value_or(unknown_gear));
    }
    log_.gear.resize(cells.texts.size());
    GearCode last = unknown_gear;
    for (std::size_t row = 0; row < cells.texts.size(); ++row) {
      if (cells.texts[row] != 0) last = codes[cells.texts[row]];
      log_.gear[row] = last;
    }
  }

  /// As mapped, as the gear is called, or a number that is: `3.0` is gear 3.
  [[nodiscard]] std::optional<GearCode> gear_of(const std::string& word) const {
    const auto found = mapping_.gears.find(word);
    if (found != mapping_.gears.end()) return found->second;
    const auto number = facts::cell_number(word, mapping_.format.decimal);
    if (!number || *number != std::floor(*number)) return std::nullopt;
    const auto whole = mapping_.gears.find(fmt::format("{:.0f}", *number));
    if (whole == mapping_.gears.end()) return std::nullopt;
    return whole->second;
  }

  void report_gear(const facts::TableColumn& cells, std::size_t column, std::size_t word) {
    const auto first = std::ranges::find(cells.texts, static_cast<std::uint32_t>(word));
    const auto row = static_cast<std::size_t>(first - cells.texts.begin());
    diagnostics_.add(gear_unknown, table_.cell_place(sources_, row, column),
                     fmt::format("`{}` is no gear of `{}`: say in the mapping under `values` of "
                                 "this column which gear it is, or `none`",
                                 cells.words[word], unit_.name));
  }

  // --- Columns ----------------------------------------------------------------------------------

  void take(Meaning meaning, std::vector<double>& into) {
    const auto column = mapping_.at(meaning);
    if (!column) return;
    into = std::move(table_.columns[*column].numbers);
    const auto first = std::ranges::find_if(into, [](double value) { return !std::isnan(value); });
    if (first == into.end()) {
      diagnostics_.add(
          column_empty, mapping_.wanted[*column].header.place,
          fmt::format("this column, `{}`, is empty in the whole log", name_of(meaning)));
    }
  }

  /// Without end: a speed that stays where it was makes no shift.
  static void carry_on(std::vector<double>& values) {
    if (values.empty()) return;
    double last = *std::ranges::find_if(values, [](double value) { return !std::isnan(value); });
    for (double& value : values) {
      if (std::isnan(value)) value = last;
      last = value;
    }
  }

  /// Empty cells in front of the first value have that one; the others the one above them.
  void carry(std::vector<double>& values) const {
    const auto known = [](double value) { return !std::isnan(value); };
    auto source = static_cast<std::size_t>(std::ranges::find_if(values, known) - values.begin());
    double value = values[source];
    for (std::size_t row = 0; row < values.size(); ++row) {
      if (known(values[row])) {
        source = row;
        value = values[row];
      } else if (std::abs(log_.time[row] - log_.time[source]) <= longest_carry) {
        values[row] = value;
      }
    }
  }

  /// Rows may have blank lines between them.
  [[nodiscard]] std::vector<std::uint32_t> lines() const {
    std::vector<std::uint32_t> lines;
    lines.reserve(table_.rows());
    const std::string_view text = sources_.text(table_.source);
    std::uint32_t line = 1;
    std::size_t at = 0;
    for (const std::uint32_t begin : table_.row_begins) {
      line += static_cast<std::uint32_t>(
          std::count(text.begin() + static_cast<std::ptrdiff_t>(at), text.begin() + begin, '\n'));
      at = begin;
      lines.push_back(line);
    }
    return lines;
  }

  const SourceSet& sources_;
  Table table_;
  const LogMapping& mapping_;
  const profile::Profile& unit_;
  Diagnostics& diagnostics_;
  DriveLog log_;
};

}  // namespace

std::optional<DriveLog> read_drive_log(const SourceSet& sources, SourceId source,
                                       const LogMapping& mapping, const profile::Profile& unit,
                                       Diagnostics& diagnostics) {
  Diagnostics found;
  auto table = facts::read_table(sources, source, mapping.format, mapping.wanted, found);
  std::optional<DriveLog> log;
  if (table) log = LogReader(sources, std::move(*table), mapping, unit, found).read();
  if (log) log->name = sources.name(source);
  diagnostics.append(std::move(found));
  return log;
}

}  // namespace slipcase::drive
