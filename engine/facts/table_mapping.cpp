#include "facts/table_mapping.h"

#include <algorithm>
#include <array>

#include <fmt/core.h>

#include "facts/document_messages.h"
#include "facts/table_messages.h"
#include "support/suggest.h"

namespace slipcase::facts {

namespace {

constexpr std::uint64_t most_lines_around_header = 1000;

struct SignName {
  std::string_view name;
  char sign;
};
constexpr std::array<SignName, 3> delimiter_names = {
    {{"comma", ','}, {"semicolon", ';'}, {"tab", '\t'}}};
constexpr std::array<SignName, 2> decimal_names = {{{"point", '.'}, {"comma", ','}}};

std::optional<char> read_sign(MapReader& map, std::string_view key, std::span<const SignName> names,
                              Diagnostics& diagnostics) {
  const Node* node = map.optional(key);
  if (node == nullptr) return std::nullopt;
  const auto word = read_scalar(*node, fmt::format("`{}`", key), diagnostics);
  if (!word) return std::nullopt;
  std::vector<std::string> known;
  for (const SignName& one : names) {
    if (one.name == word->text) return one.sign;
    known.emplace_back(one.name);
  }
  diagnostics.add(
      mapping_word, word->place,
      fmt::format("`{}` is not known for `{}`: write {}", word->text, key, quoted_list(known)));
  return std::nullopt;
}

std::uint32_t read_lines(MapReader& map, std::string_view key, Diagnostics& diagnostics) {
  const Node* node = map.optional(key);
  if (node == nullptr) return 0;
  const auto lines = read_whole_number(*node, diagnostics);
  if (lines && *lines > most_lines_around_header) {
    diagnostics.add(number_range, node->place,
                    fmt::format("`{}` is at most {}", key, most_lines_around_header));
    return 0;
  }
  return static_cast<std::uint32_t>(lines.value_or(0));
}

void check_signs(const TableFormat& format, const MapReader& map, Diagnostics& diagnostics) {
  if (format.decimal != ',' || format.delimiter != ',') return;
  diagnostics.add(mapping_word, map.node().find("delimiter")->place,
                  "a comma cannot be both the delimiter and the decimal sign");
}

}  // namespace

TableMapping read_table_mapping(MapReader& map, Diagnostics& diagnostics) {
  TableMapping mapping;
  mapping.format.delimiter = read_sign(map, "delimiter", delimiter_names, diagnostics);
  mapping.format.decimal = read_sign(map, "decimal", decimal_names, diagnostics).value_or('.');
  check_signs(mapping.format, map, diagnostics);
  mapping.format.lines_above_header = read_lines(map, "lines_above_header", diagnostics);
  mapping.format.lines_below_header = read_lines(map, "lines_below_header", diagnostics);
  const Node* columns = map.required("columns");
  if (columns == nullptr || !MapReader::of(*columns, "`columns`", diagnostics)) return mapping;
  for (const auto& [key, value] : columns->entries) {
    if (key.kind == NodeKind::scalar)
      mapping.columns.push_back({Scalar{key.text, key.place}, &value});
  }
  return mapping;
}

const units::Unit* read_unit(const Node& node, const units::Dimension& expected,
                             Diagnostics& diagnostics) {
  const auto scalar = read_scalar(node, "a unit", diagnostics);
  if (!scalar) return nullptr;
  const auto spellings = units::spellings_of(expected);
  const std::string hint = spellings.empty() ? "" : ": write it in " + quoted_list(spellings);
  const units::Unit* unit = units::find_unit(scalar->text);
  if (unit == nullptr) {
    const std::string meant = did_you_mean(scalar->text, units::unit_spellings());
    diagnostics.add(
        unit_unknown, scalar->place,
        fmt::format("`{}` is not a known unit{}", scalar->text, meant.empty() ? hint : meant));
    return nullptr;
  }
  if (unit->dimension == expected) return unit;
  diagnostics.add(unit_wrong, scalar->place,
                  fmt::format("`{}` is for a {}, a {} is expected{}", scalar->text,
                              units::describe(unit->dimension), units::describe(expected), hint));
  return nullptr;
}

}  // namespace slipcase::facts
