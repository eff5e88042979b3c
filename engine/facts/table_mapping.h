// The part that every mapping of a table's columns has in common.
//
//   delimiter: semicolon      # comma, semicolon or tab; left out: seen from the header line
//   decimal: comma            # or point, which it is if left out
//   lines_above_header: 3     # passed over
//   lines_below_header: 1     # such as a line of units
//   columns:
//     "n turbine": { unit: rpm, ... }
#pragma once

#include <vector>

#include "facts/node_reader.h"
#include "facts/table.h"

namespace slipcase::facts {

inline constexpr DocumentLimits mapping_limits{std::size_t{1} << 20U, 8, 20'000};

/// A column by its name in the table; what it means is for the caller to read.
struct MappedColumn {
  Scalar header;
  const Node* value = nullptr;  // into the document
};

struct TableMapping {
  TableFormat format;
  std::vector<MappedColumn> columns;
};

/// Reads the keys above from a mapping and leaves all others to the caller, who calls `finish`.
[[nodiscard]] TableMapping read_table_mapping(MapReader& map, Diagnostics& diagnostics);

/// The unit a column is written in; null, and reported, where it does not measure `expected`.
[[nodiscard]] const units::Unit* read_unit(const Node& node, const units::Dimension& expected,
                                           Diagnostics& diagnostics);

}  // namespace slipcase::facts
