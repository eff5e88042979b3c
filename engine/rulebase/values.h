// Values of conditions: literals, details, and readings with the functions before them.
#pragma once

#include <optional>

#include "rulebase/context.h"
#include "rulebase/targets.h"

namespace slipcase::rulebase {

/// Null if it was reported. `expected` is what the value is compared with: it makes `5 °C` a
/// difference of temperatures where one is meant, and gives `zero` its dimension.
[[nodiscard]] ValuePtr resolve_value(Context& context, const language::Value& value,
                                     const Variables& variables,
                                     const std::optional<units::Dimension>& expected = {});

/// `limit_share of fill_pressure of element`, or a detail. `any_detail`: also one that is no
/// quantity.
[[nodiscard]] ValuePtr resolve_path(Context& context, const language::Path& path,
                                    const Variables& variables, bool any_detail = false);

[[nodiscard]] std::optional<units::Quantity> resolve_quantity(
    Context& context, const language::QuantityLiteral& literal,
    const std::optional<units::Dimension>& expected = {});

/// The quantity must have this dimension.
[[nodiscard]] std::optional<units::Quantity> resolve_quantity_of(
    Context& context, const language::QuantityLiteral& literal, const units::Dimension& dimension,
    std::string_view what);

[[nodiscard]] std::optional<EventUse> resolve_event(Context& context, const language::EventUse& use,
                                                    const Variables& variables);

/// The words that are functions of values, and so can be no names.
[[nodiscard]] bool is_function(std::string_view word);
[[nodiscard]] const std::vector<std::string>& function_names();

/// Written without a unit or from the rules alone: its dimension follows from the other side.
[[nodiscard]] bool is_literal(const language::Value& value);
/// `limit_share`, `watch_share`: a share, which is written in percent.
[[nodiscard]] bool is_share(const Value& value);
/// "a date", "pressure"
[[nodiscard]] std::string describe_kind(const Value& value);

}  // namespace slipcase::rulebase
