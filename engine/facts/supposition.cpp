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

std::optional<NamedValue> read_named_value(const SourceSet& sources, SourceId source,
                                           const NamedValueWords& words, Diagnostics& diagnostics) {
  const std::string_view text = sources.text(source);
  const Place whole{source, 0, static_cast<std::uint32_t>(text.size())};
  if (!is_printable(text)) {
    diagnostics.add(words.message, whole,
                    "there is a character here that is none to read: write plain text");
    return std::nullopt;
  }
  const std::size_t equals = text.find('=');
  Scalar name = trimmed(text, 0, std::min(equals, text.size()), source);
  const bool has_value = equals != std::string_view::npos;
  Scalar value = has_value ? trimmed(text, equals + 1, text.size(), source) : Scalar{};
  if (name.text.empty() || value.text.empty()) {
    diagnostics.add(words.message, whole, fmt::format("`{}` {}", text, words.advice));
    return std::nullopt;
  }
  Node node;
  node.kind = NodeKind::scalar;
  node.text = name.text;
  node.place = name.place;
  return NamedValue{read_reference(node, words.what, diagnostics), std::move(value)};
}

std::optional<Supposition> read_supposition(const SourceSet& sources, SourceId source,
                                            Diagnostics& diagnostics) {
  const NamedValueWords words{supposition_shape,
                              "supposes nothing: write a finding, `=` and its answer, as in "
                              "`level_low=no`",
                              "a finding"};
  auto read = read_named_value(sources, source, words, diagnostics);
  if (!read) return std::nullopt;
  return Supposition{std::move(read->name), std::move(read->value)};
}

}  // namespace slipcase::facts
