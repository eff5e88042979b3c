// Changing a document without touching what else stands in it: comments, order and spelling stay.
//
// An edit finds its place in the text, and the text that comes out is read again: unless that tree
// is the old one with exactly the change in it, nothing comes back.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "facts/document.h"
#include "slipcase/card_value.h"

namespace slipcase::facts {

/// The text with `value` behind the keys of `path`, one inside the other; what is missing of them
/// is made. A single value that stands there is replaced; a map or list is not.
[[nodiscard]] std::optional<std::string> with_value(std::string_view text,
                                                    std::span<const std::string> path,
                                                    const CardValue& value,
                                                    const DocumentLimits& limits);

/// The text with `item` at the end of the list behind the keys of `path`. A single value that
/// stands in the place of a list becomes its first item.
[[nodiscard]] std::optional<std::string> with_item(std::string_view text,
                                                   std::span<const std::string> path,
                                                   const CardValue& item,
                                                   const DocumentLimits& limits);

/// The text with the list or single value behind the keys of `path` as the entry `name` of a map
/// there: `codes: [P0733]` becomes `codes: { transmission: [P0733] }`.
[[nodiscard]] std::optional<std::string> with_name(std::string_view text,
                                                   std::span<const std::string> path,
                                                   const std::string& name,
                                                   const DocumentLimits& limits);

}  // namespace slipcase::facts
