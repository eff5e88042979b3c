// Laying out text in columns for a terminal.
#pragma once

#include <string>
#include <string_view>

#include "slipcase/report.h"

namespace slipcase::report {

/// Columns the text takes on a terminal.
[[nodiscard]] std::size_t columns(std::string_view text);

/// `text` broken at blanks so that no line is wider than `width`; every line but the first is
/// indented by `hanging` more blanks. A word wider than the line stands alone on its line.
[[nodiscard]] std::string wrapped(std::string_view text, std::size_t width, std::size_t indent,
                                  std::size_t hanging);

/// The same behind a fixed text of its own column: `lead` is kept as it is and padded to
/// `lead_width`.
[[nodiscard]] std::string led(std::string_view lead, std::size_t lead_width, std::string_view text,
                              std::size_t width);

/// Left text and right text on one line `width` wide; the left one wraps where it must.
[[nodiscard]] std::string two_sided(std::string_view left, std::string_view right,
                                    std::size_t width, std::size_t indent, std::size_t hanging);

/// A heading; bold where the style has colour.
[[nodiscard]] std::string heading(std::string_view text, const TextStyle& style);

[[nodiscard]] std::size_t usable_width(const TextStyle& style);

}  // namespace slipcase::report
