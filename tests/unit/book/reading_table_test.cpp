// Tables of readings and what their mappings say. All tables are invented.
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "book/cell_date.h"
#include "support/readings_bench.h"

using namespace slipcase;
using slipcase::test::TableReading;

namespace {

using Texts = std::vector<std::string>;

const std::string wide_map =
    "not_learned: [\"---\"]\n"
    "columns:\n"
    "  Day: { means: date }\n"
    "  P1: { reading: fill_pressure of K1, unit: mbar }\n"
    "  T1: { reading: fill_time of K1, unit: ms, sign: reversed }\n";
const std::string long_map =
    "columns:\n"
    "  Element: { member_of: element, names: { A: K1, F: none } }\n"
    "  P: { reading: fill_pressure, unit: mbar }\n"
    "  Day: { means: date }\n";

/// A wide mapping with one column, written as `column`.
TableReading one_column(const std::string& column, const std::string& cell,
                        const std::string& head = "") {
  return {head + "columns:\n  Day: { means: date }\n  P: { " + column + " }\n",
          "Day;P\n2031-04-17;" + cell + "\n"};
}

std::string moment(std::string_view cell, bool day_first = false) {
  const auto read = book::cell_moment(cell, day_first);
  return read ? read->text() : "";
}

}  // namespace

TEST_CASE("days are read year first, or day first where the mapping says so") {
  CHECK(moment("2031-04-17") == "2031-04-17");
  CHECK(moment("2031/4/7 9:05") == "2031-04-07 09:05");
  CHECK(moment("2031.04.17T14:30:59") == "2031-04-17 14:30");
  CHECK(moment("17.04.2031 00:00", true) == "2031-04-17 00:00");
  CHECK(moment("7/4/2031", true) == "2031-04-07");
  for (const char* bad : {"", "17.04.2031", "2031-04-31", "2031-04/17", "31-04-17", "2031-04-17 ",
                          "2031-04-17 24:00", "2031-04-17 14", "2031-04-17 14:30:60",
                          "2031-04-17 14:30:00:00", "2031-04-17 1x:30", "2031-04-17 14:3"}) {
    CAPTURE(bad);
    CHECK(moment(bad) == "");
  }
  for (const char* bad : {"2031-04-17", "31.04.2031", "17.04.31", "17.04", "17", ".."}) {
    CAPTURE(bad);
    CHECK(moment(bad, true) == "");
  }
}

TEST_CASE("in a wide table a row is a session, and an empty cell was not read") {
  const TableReading read(wide_map, "Day,P1,T1,X\n2031-04-17,40,-12,9\n2031-05-02,---,,\n,,,1\n");
  CHECK(read.messages().empty());
  REQUIRE(read.sessions);
  REQUIRE(read.sessions->size() == 2);
  CHECK(read.values(0) == Texts{"fill_pressure of K1=40 mbar", "fill_time of K1=12 ms"});
  CHECK(read.values(1) == Texts{"fill_pressure of K1=not learned"});
  CHECK(read.sessions->at(1).moment->text() == "2031-05-02");
}

TEST_CASE("in a long table all rows are one session, and a row is a member") {
  const TableReading read(long_map, "Element,P,Day\nA,40,2031-04-17\nF,1,\nK2,-3.5,2031/4/17\n");
  CHECK(read.messages().empty());
  REQUIRE(read.sessions);
  REQUIRE(read.sessions->size() == 1);
  CHECK(read.values() == Texts{"fill_pressure of K1=40 mbar", "fill_pressure of K2=-3.5 mbar"});
}

TEST_CASE("odometer, software and temperature come from columns too") {
  const TableReading read(
      "decimal: comma\ncolumns:\n  km: { means: odometer, unit: km }\n  SW: { means: software }\n"
      "  Oil: { means: fluid_temperature, unit: C }\n"
      "  P: { reading: converter_pressure, unit: bar }\n",
      "km;SW;Oil;P\n148200,5;A3;84;0,05\n");
  CHECK(read.messages().empty());
  REQUIRE(read.sessions);
  const book::SessionTexts& texts = read.sessions->front().texts;
  CHECK(texts.odometer->text == "148200.5 km");
  CHECK(texts.software->text == "A3");
  CHECK(texts.fluid_temperature->text == "84 °C");
  CHECK(read.values() == Texts{"converter_pressure=0.05 bar"});
}

TEST_CASE("a column without signs gives numbers below zero") {
  CHECK(
      one_column("reading: fill_pressure of K1, unit: mbar, sign: unsigned_16", "65416").values() ==
      Texts{"fill_pressure of K1=-120 mbar"});
  CHECK(one_column("reading: fill_pressure of K1, unit: mbar, sign: unsigned_16", "120").values() ==
        Texts{"fill_pressure of K1=120 mbar"});
  CHECK(one_column("reading: fill_pressure of K1, unit: mbar, sign: unsigned_32", "4294967176")
            .values() == Texts{"fill_pressure of K1=-120 mbar"});
  CHECK(one_column("reading: fill_pressure of K1, unit: mbar, sign: reversed", "0").values() ==
        Texts{"fill_pressure of K1=0 mbar"});
  for (const char* bad : {"-1", "65536", "1.5"}) {
    CAPTURE(bad);
    CHECK(
        one_column("reading: fill_pressure of K1, unit: mbar, sign: unsigned_16", bad).messages() ==
        Texts{"t.csv:2:12 reading-not-unsigned"});
  }
}

TEST_CASE("a number that has lost its sign is refused with what to say in the mapping") {
  const TableReading read = one_column("reading: fill_pressure of K1, unit: mbar", "65416");
  CHECK(read.messages() == Texts{"t.csv:2:12 card-impossible-value"});
  CHECK(read.diagnostics.list().front().text ==
        "`65416 mbar` is not possible for `fill_pressure of K1`: the profile allows -500 mbar to "
        "500 mbar; it looks like -120 mbar shown without its sign: say `sign: unsigned_16` of this "
        "column in the mapping");
  CHECK(one_column("reading: fill_pressure of K1, unit: mbar", "501").diagnostics.list()[0].text ==
        "`501 mbar` is not possible for `fill_pressure of K1`: the profile allows -500 mbar to "
        "500 mbar");
}

TEST_CASE("every mistake of a table is told in one run, with its cell") {
  const TableReading read(
      wide_map, "Day,P1,T1\n17.04.2031,4O,1\n2031-04-18,n/a,500\n,600,\n2031-04-31,1,1\n");
  CHECK(read.messages() ==
        Texts{"t.csv:2:1 reading-date-shape", "t.csv:2:12 table-not-a-number",
              "t.csv:3:12 table-not-a-number", "t.csv:3:16 card-impossible-value",
              "t.csv:4:2 card-impossible-value", "t.csv:5:1 reading-date-shape"});
  CHECK_FALSE(read.sessions);
}

TEST_CASE("rows of a long table may not say different things of their session") {
  CHECK(TableReading(long_map, "Element,P,Day\nK1,40,2031-04-17\nK2,1,2031-04-18\n").messages() ==
        Texts{"t.csv:3:6 reading-rows-differ"});
  CHECK(TableReading(long_map, "Element,P,Day\nA,40,\nK1,40,\n").messages() ==
        Texts{"t.csv:3:4 reading-twice"});
  CHECK(TableReading(long_map, "Element,P,Day\nZ,40,\n,1,\n").messages() ==
        Texts{"t.csv:3:1 table-cell-empty"});
  CHECK(TableReading(long_map, "Element,P,Day\nZ,40,\n").messages() ==
        Texts{"t.csv:2:1 card-unknown-member"});
}

TEST_CASE("a table in which nothing was read, or of too many rows, is refused") {
  CHECK(TableReading(wide_map, "Day,P1,T1\n2031-04-17,,\n").messages() ==
        Texts{"t.csv:2:1 reading-none"});
  std::string rows = "Day,P1,T1\n";
  for (std::size_t i = 0; i <= book::most_session_rows; ++i) rows += "2031-04-17,1,\n";
  CHECK(TableReading(wide_map, rows).messages() == Texts{"t.csv:102:1 reading-too-many-rows"});
}

TEST_CASE("what a column says cannot be given beside the table") {
  book::SessionTexts given;
  given.date = facts::Scalar{"2031-04-17", {SourceId{0}, 0, 1}};
  CHECK(TableReading(wide_map, "Day,P1,T1\n2031-04-17,1,\n", given).messages() ==
        Texts{"map.yaml:1:1 reading-said-twice"});
}

TEST_CASE("mistakes of a mapping are told with what to write") {
  const auto told = [](const std::string& columns) {
    return TableReading("columns:\n" + columns, "A,B\n1,2\n").messages();
  };
  const std::string good = "  A: { reading: fill_pressure of K1, unit: mbar }\n";
  CHECK(told(good + "  B: { reading: fill_presure of K2, unit: mbar }\n") ==
        Texts{"map.yaml:3:17 card-unknown-name"});
  CHECK(told(good + "  B: { reading: fill_pressure of K9, unit: mbar }\n") ==
        Texts{"map.yaml:3:34 card-unknown-member"});
  CHECK(told(good + "  B: { reading: fill_pressure, unit: mbar }\n") ==
        Texts{"map.yaml:3:17 card-which-member"});
  CHECK(told(good + "  B: { reading: fill_pressure of K1, unit: bar }\n") ==
        Texts{"map.yaml:3:3 mapping-column-twice"});
  CHECK(told(good + "  B: { reading: fill_pressure of K2 }\n") ==
        Texts{"map.yaml:3:3 mapping-column-missing"});
  CHECK(told(good + "  B: { reading: fill_pressure of K2, unit: ms }\n") ==
        Texts{"map.yaml:3:44 value-unit-wrong"});
  CHECK(told(good + "  B: { reading: fill_pressure of K2, unit: mbar, sign: minus }\n") ==
        Texts{"map.yaml:3:56 mapping-word-unknown"});
  CHECK(told(good + "  B: { means: dat }\n") == Texts{"map.yaml:3:15 mapping-word-unknown"});
  CHECK(told(good + "  B: { means: date, sign: reversed }\n") ==
        Texts{"map.yaml:3:27 reading-column"});
  CHECK(told(good + "  B: { means: date, unit: km }\n") == Texts{"map.yaml:3:27 reading-column"});
  CHECK(told(good + "  B: { reading: fluid_temperature, unit: C }\n") ==
        Texts{"map.yaml:3:17 reading-column"});
  CHECK(told(good + "  B: { unit: km }\n") == Texts{"map.yaml:3:3 reading-column"});
  CHECK(told(good + "  B: { raeding: fill_pressure of K2 }\n") ==
        Texts{"map.yaml:3:8 document-unknown-key"});
  CHECK(told(good + "  C: { means: software }\n") == Texts{"map.yaml:3:3 table-no-such-column"});
  CHECK(told("  B: { means: date }\n") == Texts{"map.yaml:2:3 mapping-column-missing"});
}

TEST_CASE("in a long table readings are named without a member") {
  const auto told = [](const std::string& columns) {
    return TableReading("columns:\n  A: { member_of: element }\n" + columns, "A,B\nK1,2\n")
        .messages();
  };
  CHECK(told("  B: { reading: fill_pressure, unit: mbar }\n").empty());
  CHECK(told("  B: { reading: fill_pressure of K1, unit: mbar }\n") ==
        Texts{"map.yaml:3:17 reading-column"});
  CHECK(told("  B: { reading: converter_pressure, unit: mbar }\n") ==
        Texts{"map.yaml:3:17 reading-column"});
  CHECK(TableReading("columns:\n  A: { member_of: elment }\n", "A\n1\n").messages() ==
        Texts{"map.yaml:2:19 mapping-word-unknown"});
  CHECK(TableReading("columns:\n  A: { member_of: element, names: { X: K9 } }\n"
                     "  B: { member_of: gear }\n",
                     "A,B\n1,2\n")
            .messages() ==
        Texts{"map.yaml:2:40 card-unknown-member", "map.yaml:3:3 mapping-column-twice"});
}
