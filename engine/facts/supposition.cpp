#include "facts/supposition.h"

#include <string_view>

#include <fmt/core.h>

#include "facts/card_messages.h"
#include "facts/card_reader.h"
#include "support/utf8.h"

namespace slipcase::facts {

namespace {

/// A part of the text without the blanks around it.
Scalar trimmed(std::string_view text, std::size_t begin, std::size_t end, SourceId source) {
  constexpr std::string_view blanks = " \t";
  while (begin < end && blanks.find(text[begin]) != std::string_view::npos) ++begin;
  while (begin < end && blanks.find(text[end - 1]) != std::string_view::npos) --end;
  return {std::string(text.substr(begin, end - begin)),
          {source, static_cast<std::uint32_t>(begin), static_cast<std::uint32_t>(end)}};
}

}  // namespace

std::optional<Supposition> read_supposition(const SourceSet& sources, SourceId source,
                                            Diagnostics& diagnostics) {
  const std::string_view text = sources.text(source);
  const Place whole{source, 0, static_cast<std::uint32_t>(text.size())};
  if (!is_printable(text)) {
    diagnostics.add(supposition_shape, whole,
                    "there is a character here that is none to read: write plain text");
    return std::nullopt;
  }
  const std::size_t equals = text.find('=');
  Scalar name = trimmed(text, 0, std::min(equals, text.size()), source);
  const bool has_answer = equals != std::string_view::npos;
  Scalar answer = has_answer ? trimmed(text, equals + 1, text.size(), source) : Scalar{};
  if (name.text.empty() || answer.text.empty()) {
    diagnostics.add(supposition_shape, whole,
                    fmt::format("`{}` supposes nothing: write a finding, `=` and its answer, as in "
                                "`level_low=no`",
                                text));
    return std::nullopt;
  }
  Node node;
  node.kind = NodeKind::scalar;
  node.text = name.text;
  node.place = name.place;
  return Supposition{read_reference(node, "a finding", diagnostics), std::move(answer)};
}

}  // namespace slipcase::facts
