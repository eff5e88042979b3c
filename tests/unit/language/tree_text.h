// A syntax tree as text with every member of every node, places apart: two trees are the same if
// their texts are. It knows nothing of the rule language, so it is no copy of the printer.
#pragma once

#include <cstdint>
#include <string>
#include <type_traits>
#include <variant>
#include <vector>

#include <fmt/core.h>

#include "language/ast.h"

namespace slipcase::language::testing {

/// How many members an aggregate has: the longest list of empty braces that makes one.
template <class T>
constexpr std::size_t member_count() {
  if constexpr (requires { T{{}, {}, {}, {}, {}, {}, {}, {}, {}, {}, {}}; }) return 11;
  if constexpr (requires { T{{}, {}, {}, {}, {}, {}, {}, {}, {}, {}}; }) return 10;
  if constexpr (requires { T{{}, {}, {}, {}, {}, {}, {}, {}, {}}; }) return 9;
  if constexpr (requires { T{{}, {}, {}, {}, {}, {}, {}, {}}; }) return 8;
  if constexpr (requires { T{{}, {}, {}, {}, {}, {}, {}}; }) return 7;
  if constexpr (requires { T{{}, {}, {}, {}, {}, {}}; }) return 6;
  if constexpr (requires { T{{}, {}, {}, {}, {}}; }) return 5;
  if constexpr (requires { T{{}, {}, {}, {}}; }) return 4;
  if constexpr (requires { T{{}, {}, {}}; }) return 3;
  if constexpr (requires { T{{}, {}}; }) return 2;
  return 1;
}

/// Calls `visit` with each member.
template <class T, class Visit>
void for_each_member(T& value, const Visit& visit) {
  constexpr std::size_t count = member_count<std::remove_const_t<T>>();
  static_assert(count <= 10, "add a case");
  if constexpr (count == 1) {
    auto& [a] = value;
    visit(a);
  } else if constexpr (count == 2) {
    auto& [a, b] = value;
    visit(a), visit(b);
  } else if constexpr (count == 3) {
    auto& [a, b, c] = value;
    visit(a), visit(b), visit(c);
  } else if constexpr (count == 4) {
    auto& [a, b, c, d] = value;
    visit(a), visit(b), visit(c), visit(d);
  } else if constexpr (count == 5) {
    auto& [a, b, c, d, e] = value;
    visit(a), visit(b), visit(c), visit(d), visit(e);
  } else if constexpr (count == 6) {
    auto& [a, b, c, d, e, f] = value;
    visit(a), visit(b), visit(c), visit(d), visit(e), visit(f);
  } else if constexpr (count == 7) {
    auto& [a, b, c, d, e, f, g] = value;
    visit(a), visit(b), visit(c), visit(d), visit(e), visit(f), visit(g);
  } else if constexpr (count == 8) {
    auto& [a, b, c, d, e, f, g, h] = value;
    visit(a), visit(b), visit(c), visit(d), visit(e), visit(f), visit(g), visit(h);
  } else if constexpr (count == 9) {
    auto& [a, b, c, d, e, f, g, h, i] = value;
    visit(a), visit(b), visit(c), visit(d), visit(e), visit(f), visit(g), visit(h), visit(i);
  } else if constexpr (count == 10) {
    auto& [a, b, c, d, e, f, g, h, i, j] = value;
    visit(a), visit(b), visit(c), visit(d), visit(e);
    visit(f), visit(g), visit(h), visit(i), visit(j);
  }
}

template <class T, template <class...> class Template>
inline constexpr bool is_made_from = false;
template <template <class...> class Template, class... Parts>
inline constexpr bool is_made_from<Template<Parts...>, Template> = true;

// The nodes with a Box cannot be made from empty braces; they are spelt out.
template <class T>
void add_tree(std::string& text, const T& value) {
  if constexpr (std::is_same_v<T, Place> || std::is_same_v<T, SourceId>) {
    return;
  } else if constexpr (std::is_same_v<T, std::string>) {
    text += "'" + value + "' ";
  } else if constexpr (std::is_same_v<T, double>) {
    text += fmt::format("{:a} ", value);
  } else if constexpr (std::is_enum_v<T> || std::is_integral_v<T>) {
    text += fmt::format("{} ", static_cast<std::uint64_t>(value));
  } else if constexpr (is_made_from<T, std::vector>) {
    text += "[ ";
    for (const auto& each : value) add_tree(text, each);
    text += "] ";
  } else if constexpr (is_made_from<T, std::optional> || is_made_from<T, Maybe>) {
    text += value ? "some " : "none ";
    if (value) add_tree(text, *value);
  } else if constexpr (is_made_from<T, Box>) {
    add_tree(text, *value);
  } else if constexpr (is_made_from<T, std::variant>) {
    text += fmt::format("#{} ", value.index());
    std::visit([&](const auto& each) { add_tree(text, each); }, value);
  } else if constexpr (std::is_same_v<T, Not>) {
    add_tree(text, value.inner);
  } else if constexpr (std::is_same_v<T, Difference>) {
    add_tree(text, value.from);
    add_tree(text, value.subtract);
  } else if constexpr (std::is_same_v<T, Quotient>) {
    add_tree(text, value.over);
    add_tree(text, value.under);
  } else if constexpr (std::is_same_v<T, Quantified>) {
    add_tree(text, value.selection);
    add_tree(text, value.inner);
  } else if constexpr (!std::is_empty_v<T>) {
    text += "{ ";
    for_each_member(value, [&](const auto& member) { add_tree(text, member); });
    text += "} ";
  }
}

template <class T>
[[nodiscard]] std::string tree_text(const T& value) {
  std::string text;
  add_tree(text, value);
  return text;
}

/// Comments move when a file is printed in its layout; everything else stays.
[[nodiscard]] inline std::string meaning_text(const File& file) {
  std::string text;
  add_tree(text, file.language);
  add_tree(text, file.unit);
  add_tree(text, file.declarations);
  return text;
}

}  // namespace slipcase::language::testing
