// Pieces of text that the printers of conditions and of declarations share.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "language/ast.h"

namespace slipcase::language {

inline constexpr std::string_view indent = "    ";

/// The first line of a declaration.
[[nodiscard]] std::string header_text(const Declaration& declaration);
/// In quotes; curly ones where the text itself holds straight ones.
[[nodiscard]] std::string quoted(std::string_view text);
/// The shortest decimal digits that read back as the same number, without an exponent.
[[nodiscard]] std::string number_text(double value);
[[nodiscard]] std::string quantity_text(const QuantityLiteral& quantity);
[[nodiscard]] std::string selection_text(const Selection& selection);
[[nodiscard]] std::string path_text(const Path& path);
[[nodiscard]] std::string event_text(const EventUse& use);
/// "" or " by us"
[[nodiscard]] std::string hand_text(Hand hand);
[[nodiscard]] std::string value_text(const Value& value);

template <class T, class Printer>
[[nodiscard]] std::string list_text(const std::vector<T>& list, std::string_view between,
                                    const Printer& print_one) {
  std::string text;
  for (const T& each : list) {
    if (&each != &list.front()) text += between;
    text += print_one(each);
  }
  return text;
}

/// One function object from several, for std::visit.
template <class... Functions>
struct Overloaded : Functions... {
  using Functions::operator()...;
};
template <class... Functions>
Overloaded(Functions...) -> Overloaded<Functions...>;

}  // namespace slipcase::language
