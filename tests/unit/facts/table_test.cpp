// Tables: what is read, and what is refused at which place.
#include "facts/table.h"

#include <cmath>
#include <random>

#include <doctest/doctest.h>
#include <fmt/core.h>

#include "facts/table_number.h"
#include "support/card_reading.h"
#include "units/quantity.h"

using namespace slipcase;
using facts::CellKind;
using facts::Table;
using facts::TableFormat;
using facts::WantedColumn;

namespace {

using Messages = std::vector<std::string>;

WantedColumn wanted_number(std::string name, const char* unit = nullptr,
                           bool may_be_empty = false) {
  return {{std::move(name), {}},
          CellKind::number,
          unit == nullptr ? nullptr : units::find_unit(unit),
          may_be_empty};
}
WantedColumn wanted_text(std::string name) {
  return {{std::move(name), {}}, CellKind::text, nullptr, true};
}

struct TableReading {
  explicit TableReading(std::string text, std::vector<WantedColumn> wanted,
                        const TableFormat& format = {}) {
    mapping = sources.add("map.yaml", "a b c d");
    const SourceId log = sources.add("log.csv", std::move(text));
    for (WantedColumn& one : wanted) one.header.place = {mapping, 0, 1};
    table = facts::read_table(sources, log, format, wanted, diagnostics);
    CHECK(table.has_value() != diagnostics.has_errors());
  }

  [[nodiscard]] Messages messages() const {
    Messages texts;
    for (const Diagnostic& one : diagnostics.list()) {
      texts.push_back(
          fmt::format("{} {}", one.place ? sources.describe(*one.place) : "-", one.name));
    }
    return texts;
  }
  [[nodiscard]] std::string first_text() const { return diagnostics.list().at(0).text; }

  SourceSet sources;
  SourceId mapping;
  Diagnostics diagnostics;
  std::optional<Table> table;
};

const std::vector<WantedColumn> a_and_b{wanted_number("a"), wanted_number("b")};
using Numbers = std::vector<double>;

}  // namespace

TEST_CASE("columns are found by their names and in any order") {
  const TableReading reading("b,other,a\n1.5,x,2\n-3,y,+4e2\n", a_and_b);
  REQUIRE(reading.table);
  CHECK(reading.table->columns[0].numbers == Numbers{2, 400});
  CHECK(reading.table->columns[1].numbers == Numbers{1.5, -3});
}

TEST_CASE("the delimiter is seen from the header, or said") {
  CHECK(TableReading("a;b\n1;2\n", a_and_b).table->delimiter == ';');
  CHECK(TableReading("a\tb\n1\t2\n", a_and_b).table->delimiter == '\t');
  CHECK(TableReading("\"a;b;c\",a,b\n0,1,2\n", a_and_b).table->delimiter == ',');
  TableFormat semicolon;
  semicolon.delimiter = ';';
  CHECK(TableReading("x,y,z;a;b\n0;1;2\n", a_and_b, semicolon).table->columns[0].numbers ==
        Numbers{1});
}

TEST_CASE("numbers may have a decimal comma where the mapping says so") {
  TableFormat comma;
  comma.decimal = ',';
  CHECK(TableReading("a;b\n1,5;-2,25\n", a_and_b, comma).table->columns[1].numbers ==
        Numbers{-2.25});
  const TableReading other("a;b\n1,5;2\n", a_and_b);
  CHECK(other.messages() == Messages{"log.csv:2:1 table-not-a-number"});
  CHECK(other.first_text() ==
        "`1,5` in the column `a` is no number: it has a decimal comma, say `decimal: comma` in the "
        "mapping");
  CHECK(TableReading("a;b\n1.5;2\n", a_and_b, comma).messages() ==
        Messages{"log.csv:2:1 table-not-a-number"});
}

TEST_CASE("byte order mark, other line ends, blank lines, quotes and empty rows do no harm") {
  const TableReading reading("\xEF\xBB\xBF\"a\",\"b\"\r\n\r\n 1 ,\"2\"\r\n,\r\n3,4\r\n\r\n  \r\n",
                             a_and_b);
  REQUIRE(reading.table);
  CHECK(reading.table->columns[0].numbers == Numbers{1, 3});
  CHECK(reading.table->columns[1].numbers == Numbers{2, 4});
  CHECK(reading.sources.describe(reading.table->row_place(reading.sources, 1)) == "log.csv:5:1");
  CHECK(reading.sources.describe(reading.table->cell_place(reading.sources, 1, 1)) ==
        "log.csv:5:3");
  CHECK(TableReading("a,b\n1,2", a_and_b).table->rows() == 1);
}

TEST_CASE("lines around the header are passed over where the mapping says so") {
  TableFormat format;
  format.lines_above_header = 2;
  format.lines_below_header = 1;
  const TableReading reading("made by,a logger,in,2031\n\na,b\n[s],[rpm]\n1,2\n", a_and_b, format);
  REQUIRE(reading.table);
  CHECK(reading.table->columns[1].numbers == Numbers{2});
}

TEST_CASE("numbers come back in base units") {
  const std::vector<WantedColumn> wanted{wanted_number("v", "km/h"), wanted_number("t", "F"),
                                         wanted_number("p", "%")};
  const TableReading reading("v,t,p\n36,212,40\n", wanted);
  REQUIRE(reading.table);
  CHECK(reading.table->columns[0].numbers.at(0) == doctest::Approx(10.0));
  CHECK(reading.table->columns[1].numbers == Numbers{100.0});
  CHECK(reading.table->columns[2].numbers == Numbers{0.4});
}

TEST_CASE("a column of texts keeps each text once") {
  const TableReading reading("gear,a\nD,1\nD,2\n,3\nR,4\nD,5\n",
                             {wanted_text("gear"), wanted_number("a")});
  REQUIRE(reading.table);
  CHECK(reading.table->columns[0].words == Messages{"", "D", "R"});
  CHECK(reading.table->columns[0].texts == std::vector<std::uint32_t>{1, 1, 0, 2, 1});
}

TEST_CASE("an empty cell is no number, and refused only where one is needed") {
  const TableReading reading("a,b\n1,\n2,3\n",
                             {wanted_number("a"), wanted_number("b", nullptr, true)});
  REQUIRE(reading.table);
  CHECK(std::isnan(reading.table->columns[1].numbers[0]));
  CHECK(TableReading("a,b\n1,\n2,3\n", a_and_b).messages() ==
        Messages{"log.csv:2:3 table-cell-empty"});
}

TEST_CASE(
    "rows of another length are refused, all of them, and spreadsheets' empty tails are not") {
  const TableReading reading("a,b\n1\n1,2,3\n1,2,,\n1,2\n", a_and_b);
  CHECK(reading.messages() ==
        Messages{"log.csv:2:1 table-ragged-row", "log.csv:3:1 table-ragged-row"});
  CHECK(reading.first_text() == "this row has 1 cell, the header 2");
}

TEST_CASE("what is no number is refused at its place, once") {
  const TableReading reading("a,b\nx,2\n1, -- \n1,nan\n0x1,inf\n1 000,\"1,000\"\n", a_and_b);
  CHECK(reading.messages() ==
        Messages{"log.csv:2:1 table-not-a-number", "log.csv:3:4 table-not-a-number",
                 "log.csv:4:3 table-not-a-number", "log.csv:5:1 table-not-a-number",
                 "log.csv:5:5 table-not-a-number", "log.csv:6:1 table-not-a-number",
                 "log.csv:6:7 table-not-a-number"});
}

TEST_CASE("a column that is not there is named with the nearest, at its place in the mapping") {
  const TableReading reading("time,speeed\n1,2\n", {wanted_number("speed"), wanted_number("gear")});
  CHECK(reading.messages() ==
        Messages{"map.yaml:1:1 table-no-such-column", "map.yaml:1:1 table-no-such-column"});
  CHECK(reading.first_text() == "the table has no column `speed`, did you mean `speeed`?");
  CHECK(reading.diagnostics.list()[1].text ==
        "the table has no column `gear`; it has `time` or `speeed`");
  CHECK(TableReading("a,b,a\n1,2,3\n", a_and_b).messages() ==
        Messages{"log.csv:1:5 table-column-twice"});
}

TEST_CASE("a file with nothing in it, or only a header, is refused") {
  CHECK(TableReading("", a_and_b).messages() == Messages{"log.csv:1:1 table-empty"});
  CHECK(TableReading("\xEF\xBB\xBF\n \n", a_and_b).messages() ==
        Messages{"log.csv:1:1 table-empty"});
  CHECK(TableReading("a,b\n\n", a_and_b).messages() == Messages{"log.csv:1:1 table-empty"});
}

TEST_CASE("binary data, other encodings and other line ends are refused") {
  CHECK(TableReading(std::string("a,b\n1,\0\n", 8), a_and_b).messages() ==
        Messages{"log.csv:2:3 table-binary"});
  CHECK(TableReading("a,b,T \xB0\n1,2,3\n", a_and_b).messages() ==
        Messages{"log.csv:1:7 text-not-utf8"});
  CHECK(TableReading("a,b\r1,2\r", a_and_b).messages() == Messages{"log.csv:1:4 table-line-end"});
}

TEST_CASE("an open quote is refused, and the rows below it are read") {
  const TableReading reading("a,b\n1,\"2\n3,x\n", a_and_b);
  CHECK(reading.messages() ==
        Messages{"log.csv:2:3 table-quote-missing", "log.csv:3:3 table-not-a-number"});
  CHECK(TableReading("a,\"b\n1,2\n", a_and_b).messages() ==
        Messages{"log.csv:1:3 table-quote-missing"});
}

TEST_CASE("of many errors of one kind the first ten are listed, the rest is counted") {
  std::string text = "a,b\n";
  for (int i = 0; i < 1000; ++i) text += "1\n";
  const TableReading reading(std::move(text), a_and_b);
  CHECK(reading.diagnostics.list().size() == 11);
  CHECK(reading.diagnostics.list().back().text == "990 more errors in this text are not listed");
}

TEST_CASE("a table of too many columns is refused") {
  std::string text = "a,b";
  for (int i = 0; i < 1000; ++i) text += ",c";
  CHECK(TableReading(text + "\n", a_and_b).messages() == Messages{"log.csv:1:1 table-too-wide"});
}

TEST_CASE("numbers are rounded as the standard library rounds them") {
  std::mt19937_64 random(20310417);
  for (int i = 0; i < 20000; ++i) {
    const double value =
        std::ldexp(static_cast<double>(random() >> 11U), static_cast<int>(random() % 80) - 90);
    for (const std::string& text :
         {fmt::format("{}", value), fmt::format("-{:.3f}", value), fmt::format("{:.14g}", value)}) {
      CAPTURE(text);
      REQUIRE(facts::cell_number(text, '.') == std::stod(text));
    }
  }
}
