// Messages about tables (CSV) and about the mapping that says what their columns mean.
#pragma once

#include "slipcase/diagnostic.h"

namespace slipcase::facts {

// The text as a whole.
inline constexpr Message table_binary{"table-binary"};
inline constexpr Message table_line_end{"table-line-end"};
inline constexpr Message table_empty{"table-empty"};
inline constexpr Message table_too_wide{"table-too-wide"};

// Its header.
inline constexpr Message table_no_column{"table-no-such-column"};
inline constexpr Message table_column_twice{"table-column-twice"};

// Its rows.
inline constexpr Message table_ragged{"table-ragged-row"};
inline constexpr Message table_quote{"table-quote-missing"};
inline constexpr Message table_not_a_number{"table-not-a-number"};
inline constexpr Message table_cell_empty{"table-cell-empty"};

// The mapping.
inline constexpr Message mapping_word{"mapping-word-unknown"};
inline constexpr Message mapping_twice{"mapping-column-twice"};
inline constexpr Message mapping_missing{"mapping-column-missing"};

}  // namespace slipcase::facts
