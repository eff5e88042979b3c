#include "book/reading_table.h"

#include <algorithm>
#include <utility>

#include <fmt/core.h>

#include "book/messages.h"
#include "book/reading_cell.h"
#include "evaluation/messages.h"
#include "facts/table_errors.h"
#include "support/suggest.h"

namespace slipcase::book {

namespace {

using facts::Scalar;
using facts::Table;

class SessionTableReader {
 public:
  SessionTableReader(const SourceSet& sources, const Table& table, const ReadingMapping& mapping,
                     const grounding::GroundRules& rules, Diagnostics& diagnostics)
      : sources_(sources),
        table_(table),
        mapping_(mapping),
        rules_(rules),
        diagnostics_(diagnostics),
        cells_(mapping, rules, diagnostics) {}

  std::vector<ReadSession> read(const SessionTexts& given) {
    if (!has_few_rows()) return {};
    return mapping_.member ? read_long(given) : read_wide(given);
  }

 private:
  bool has_few_rows() {
    const std::size_t most = mapping_.member ? most_member_rows : most_session_rows;
    if (table_.rows() <= most) return true;
    diagnostics_.add(
        reading_too_many, table_.row_place(sources_, most),
        fmt::format(
            "this table has {} rows, and no more than {} are read: {}", table_.rows(), most,
            mapping_.member ? "a row is one member of the unit" : "each is a session of its own"));
    return false;
  }

  // --- A row is a session
  // -------------------------------------------------------------------------

  std::vector<ReadSession> read_wide(const SessionTexts& given) {
    std::vector<ReadSession> sessions;
    for (std::size_t row = 0; row < table_.rows(); ++row) {
      if (!has_values(row)) continue;
      ReadSession session;
      for (const ReadingColumn& column : mapping_.readings)
        read_value(row, column, column.reading, session);
      take_texts(with_given(texts_of(row), given), session, diagnostics_);
      if (!session.values.empty()) sessions.push_back(std::move(session));
    }
    return sessions;
  }

  [[nodiscard]] bool has_values(std::size_t row) const {
    return std::ranges::any_of(mapping_.readings, [&](const ReadingColumn& column) {
      return table_.columns[column.column].texts[row] != 0;
    });
  }

  // --- All rows are one
  // ---------------------------------------------------------------------------

  std::vector<ReadSession> read_long(const SessionTexts& given) {
    ReadSession session;
    SessionTexts texts;
    for (std::size_t row = 0; row < table_.rows(); ++row) {
      agree(texts, texts_of(row));
      const auto member = member_of(row);
      for (const ReadingColumn& column : mapping_.readings) read_cell(row, member, column, session);
    }
    take_texts(with_given(std::move(texts), given), session, diagnostics_);
    std::vector<ReadSession> sessions;
    if (!session.values.empty()) sessions.push_back(std::move(session));
    return sessions;
  }

  struct RowMember {
    enum class Kind : std::uint8_t { known, passed_over, reported } kind = Kind::reported;
    grounding::MemberId member;
  };

  RowMember member_of(std::size_t row) {
    const MemberColumn& member = *mapping_.member;
    const ReadingCell cell = cell_of(row, member.column);
    const auto named = member.names.find(cell.text);
    if (named != member.names.end() && !named->second) return {RowMember::Kind::passed_over, {}};
    if (named != member.names.end()) return {RowMember::Kind::known, *named->second};
    const auto& scope = rules_.rules->unit.scope(member.scope);
    if (const auto found = rules_.rules->unit.find_member(member.scope, cell.text))
      return {RowMember::Kind::known, *found};
    diagnostics_.add(evaluation::unknown_member, cell.place,
                     fmt::format("`{}` has no {} `{}`: say in the mapping, under `names` of this "
                                 "column, which of {} it is, or `none` to pass its rows over",
                                 rules_.profile->name, scope.name, facts::shortened_cell(cell.text),
                                 quoted_list(scope.members)));
    return {};
  }

  void read_cell(std::size_t row, const RowMember& member, const ReadingColumn& column,
                 ReadSession& session) {
    const ReadingCell cell = cell_of(row, column.column);
    switch (member.kind) {
      case RowMember::Kind::known:
        read_value(row, column,
                   grounding::GroundReading{column.reading.index + member.member.index}, session);
        break;
      case RowMember::Kind::reported:
        if (!cell.text.empty()) cells_.check(cell, column);
        break;
      case RowMember::Kind::passed_over:
        break;
    }
  }

  /// Cells of one session that say the same say it together; empty ones say nothing.
  void agree(SessionTexts& texts, SessionTexts row) {
    agree(texts.date, std::move(row.date));
    agree(texts.odometer, std::move(row.odometer));
    agree(texts.software, std::move(row.software));
    agree(texts.fluid_temperature, std::move(row.fluid_temperature));
  }

  void agree(std::optional<Scalar>& first, std::optional<Scalar> next) {
    if (!next) return;
    if (!first) {
      first = std::move(next);
      return;
    }
    if (first->text == next->text) return;
    diagnostics_
        .add(reading_rows_differ, next->place,
             fmt::format("this row says `{}`, an earlier one `{}`: the rows of this table are one "
                         "session",
                         facts::shortened_cell(next->text), facts::shortened_cell(first->text)))
        .notes.push_back({first->place, "the other is here"});
  }

  // --- Cells
  // --------------------------------------------------------------------------------------

  [[nodiscard]] ReadingCell cell_of(std::size_t row, std::size_t column) const {
    const facts::TableColumn& cells = table_.columns[column];
    return {cells.words[cells.texts[row]], mapping_.header(column).text,
            table_.cell_place(sources_, row, column)};
  }

  void read_value(std::size_t row, const ReadingColumn& column, grounding::GroundReading reading,
                  ReadSession& session) {
    const ReadingCell cell = cell_of(row, column.column);
    if (cell.text.empty()) return;
    if (auto value = cells_.value(cell, column, reading))
      take_value(rules_, *std::move(value), session, diagnostics_);
  }

  SessionTexts texts_of(std::size_t row) {
    SessionTexts texts;
    if (mapping_.date) {
      const ReadingCell cell = cell_of(row, *mapping_.date);
      if (says_something(cell)) texts.date = cells_.date(cell);
    }
    if (mapping_.software) {
      const ReadingCell cell = cell_of(row, *mapping_.software);
      if (says_something(cell)) texts.software = Scalar{std::string(cell.text), cell.place};
    }
    texts.odometer = quantity_of(row, mapping_.odometer);
    texts.fluid_temperature = quantity_of(row, mapping_.fluid_temperature);
    return texts;
  }

  std::optional<Scalar> quantity_of(std::size_t row, const std::optional<QuantityColumn>& column) {
    if (!column) return std::nullopt;
    const ReadingCell cell = cell_of(row, column->column);
    return says_something(cell) ? cells_.quantity(cell, column->unit) : std::nullopt;
  }

  [[nodiscard]] bool says_something(const ReadingCell& cell) const {
    return !cell.text.empty() && !cells_.says_not_learned(cell.text);
  }

  static SessionTexts with_given(SessionTexts texts, const SessionTexts& given) {
    if (given.date) texts.date = given.date;
    if (given.odometer) texts.odometer = given.odometer;
    if (given.software) texts.software = given.software;
    if (given.fluid_temperature) texts.fluid_temperature = given.fluid_temperature;
    return texts;
  }

  const SourceSet& sources_;
  const Table& table_;
  const ReadingMapping& mapping_;
  const grounding::GroundRules& rules_;
  Diagnostics& diagnostics_;
  CellReader cells_;
};

/// What a column says row by row cannot be said of all rows too.
void refuse_said_twice(const ReadingMapping& mapping, const SessionTexts& given,
                       Diagnostics& diagnostics) {
  const auto refuse = [&](const std::optional<Scalar>& text, std::optional<std::size_t> column,
                          std::string_view option) {
    if (!text || !column) return;
    const Scalar& header = mapping.header(*column);
    diagnostics
        .add(reading_said_twice, text->place,
             fmt::format("the column `{}` says this already: leave `--{}` out, or the column out "
                         "of the mapping",
                         facts::shortened_cell(header.text), option))
        .notes.push_back({header.place, "it is named here"});
  };
  const auto column_of = [](const std::optional<QuantityColumn>& column) {
    return column ? std::optional(column->column) : std::nullopt;
  };
  refuse(given.date, mapping.date, "date");
  refuse(given.odometer, column_of(mapping.odometer), "odometer");
  refuse(given.software, mapping.software, "software");
  refuse(given.fluid_temperature, column_of(mapping.fluid_temperature), "fluid-temperature");
}

}  // namespace

std::optional<std::vector<ReadSession>> read_session_table(
    const SourceSet& sources, SourceId source, const ReadingMapping& mapping,
    const grounding::GroundRules& rules, const SessionTexts& given, Diagnostics& diagnostics) {
  Diagnostics found;
  refuse_said_twice(mapping, given, found);
  const auto table = facts::read_table(sources, source, mapping.format, mapping.wanted, found);
  std::vector<ReadSession> sessions;
  if (table) sessions = SessionTableReader(sources, *table, mapping, rules, found).read(given);
  if (table && sessions.empty() && !found.has_errors())
    found.add(reading_none, table->row_place(sources, 0),
              "no row of this table has a value: are the right columns mapped?");
  const bool failed = found.has_errors();
  diagnostics.append(std::move(found));
  if (failed) return std::nullopt;
  return sessions;
}

}  // namespace slipcase::book
