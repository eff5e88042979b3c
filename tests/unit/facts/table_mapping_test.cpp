// The part that every mapping of a table's columns has in common.
#include "facts/table_mapping.h"

#include <doctest/doctest.h>
#include <fmt/core.h>

#include "support/card_reading.h"

using namespace slipcase;

namespace {

struct MappingReading {
  explicit MappingReading(std::string text) {
    const SourceId source = sources.add("map.yaml", std::move(text));
    document = facts::read_document(sources, source, facts::mapping_limits, diagnostics);
    REQUIRE(document);
    auto map = facts::MapReader::of(*document, "a mapping", diagnostics);
    mapping = facts::read_table_mapping(*map, diagnostics);
    map->finish();
  }

  [[nodiscard]] std::vector<std::string> messages() const {
    std::vector<std::string> texts;
    for (const Diagnostic& one : diagnostics.list())
      texts.push_back(fmt::format("{} {}", sources.describe(*one.place), one.name));
    return texts;
  }

  SourceSet sources;
  Diagnostics diagnostics;
  std::optional<facts::Node> document;
  facts::TableMapping mapping;
};

using MappingMessages = std::vector<std::string>;

}  // namespace

TEST_CASE("a mapping says how the table is written and which columns are meant") {
  const MappingReading reading(
      "delimiter: semicolon\ndecimal: comma\nlines_above_header: 3\nlines_below_header: 1\n"
      "columns:\n  \"n turbine\": { unit: rpm }\n  t: { unit: s }\n");
  CHECK(reading.messages().empty());
  CHECK(reading.mapping.format.delimiter == ';');
  CHECK(reading.mapping.format.decimal == ',');
  CHECK(reading.mapping.format.lines_above_header == 3);
  CHECK(reading.mapping.format.lines_below_header == 1);
  REQUIRE(reading.mapping.columns.size() == 2);
  CHECK(reading.mapping.columns[0].header.text == "n turbine");
  CHECK(reading.mapping.columns[0].value->find("unit") != nullptr);
}

TEST_CASE("what a mapping leaves out has the usual meaning") {
  const MappingReading reading("columns: { t: { unit: s } }");
  CHECK_FALSE(reading.mapping.format.delimiter);
  CHECK(reading.mapping.format.decimal == '.');
}

TEST_CASE("mistakes in a mapping are told at their places") {
  CHECK(MappingReading("delimiter: dot\ncolumns: {}").messages() ==
        MappingMessages{"map.yaml:1:12 mapping-word-unknown"});
  CHECK(MappingReading("delimiter: comma\ndecimal: comma\ncolumns: {}").messages() ==
        MappingMessages{"map.yaml:1:12 mapping-word-unknown"});
  CHECK(MappingReading("lines_above_header: 1001\ncolumns: {}").messages() ==
        MappingMessages{"map.yaml:1:21 value-out-of-range"});
  CHECK(MappingReading("decimals: comma\ncolumns: {}").messages() ==
        MappingMessages{"map.yaml:1:1 document-unknown-key"});
  CHECK(MappingReading("decimal: point").messages() ==
        MappingMessages{"map.yaml:1:1 document-missing-key"});
}

TEST_CASE("a unit of a column is one of what is measured there") {
  MappingReading reading("columns: { t: s, v: kmx, n: bar }");
  const auto unit = [&](std::size_t i, const units::Dimension& expected) {
    return facts::read_unit(*reading.mapping.columns[i].value, expected, reading.diagnostics);
  };
  CHECK(unit(0, units::of(units::Base::duration))->symbol == "s");
  CHECK(unit(1, units::speed()) == nullptr);
  CHECK(unit(2, units::of(units::Base::rotation)) == nullptr);
  CHECK(reading.messages() ==
        MappingMessages{"map.yaml:1:21 value-unit-unknown", "map.yaml:1:29 value-unit-wrong"});
}
