#include <fmt/core.h>

#include "profile/messages.h"
#include "profile/read_draft.h"

namespace slipcase::profile {

using facts::MapReader;
using facts::Node;
using units::TroubleCode;

namespace {

// A part has a handful of codes; a longer range in `codes` means a controller.
constexpr int most_codes_of_a_part = 256;

std::optional<TroubleCode> read_code(const Scalar& text, Diagnostics& diagnostics) {
  const auto code = TroubleCode::parse(text.text);
  if (!code) {
    diagnostics.add(code_shape, text.place,
                    fmt::format("`{}` is no trouble code: a letter P, C, B or U, a digit 0 to 3 "
                                "and three more, like `P0733`; a range is `P0745 to P0747`",
                                text.text));
  }
  return code;
}

std::vector<CodeRange> read_code_ranges(const Node& node, std::string_view what,
                                        Diagnostics& diagnostics) {
  std::vector<CodeRange> ranges;
  for (const Scalar& text : names_of(node, what, diagnostics)) {
    if (const auto range = read_code_range(text, diagnostics)) ranges.push_back(*range);
  }
  return ranges;
}

std::vector<CodeRange> read_part_codes(const Node& node, std::string_view what,
                                       Diagnostics& diagnostics) {
  std::vector<CodeRange> ranges = read_code_ranges(node, what, diagnostics);
  std::erase_if(ranges, [&](const CodeRange& range) {
    const int count = range.last.bits() - range.first.bits() + 1;
    if (count <= most_codes_of_a_part) return false;
    diagnostics.add(
        too_many, range.place,
        fmt::format("{} codes for one part are too many, at most {}", count, most_codes_of_a_part));
    return true;
  });
  return ranges;
}

void read_family(const Scalar& name, const Node& node, ProfileDraft& draft,
                 Diagnostics& diagnostics) {
  auto map = MapReader::of(node, fmt::format("`{}`", name.text), diagnostics);
  if (!map) return;
  CodeFamilyDraft family{name, std::nullopt, {}, {}};
  if (const Node* scope = map->optional("of")) {
    family.scope = facts::read_scalar(*scope, "`of`", diagnostics);
    if (const Node* each = map->required("each")) {
      for (const auto& [member, codes] : entries_of(*each, "`each`", most_entries, diagnostics)) {
        family.each.emplace_back(
            member, read_part_codes(*codes, fmt::format("`{}`", member.text), diagnostics));
      }
    }
  } else if (const Node* codes = map->required("codes")) {
    family.codes = read_part_codes(*codes, "`codes`", diagnostics);
  }
  map->finish();
  draft.codes.push_back(std::move(family));
}

/// `[a, b]`, or `{ part: x, states: [a, b] }` for "x: a", "x: b".
std::vector<std::string> read_texts(const Node& node, std::string_view what,
                                    Diagnostics& diagnostics) {
  std::vector<std::string> texts;
  std::string part;
  const Node* states = &node;
  if (node.kind == facts::NodeKind::map) {
    auto map = MapReader::of(node, std::string(what), diagnostics);
    const Node* name = map->required("part");
    states = map->required("states");
    map->finish();
    if (name == nullptr || states == nullptr) return texts;
    if (const auto text = facts::read_scalar(*name, "`part`", diagnostics))
      part = text->text + ": ";
  }
  for (const Scalar& state : names_of(*states, what, diagnostics)) {
    texts.push_back(part + state.text);
  }
  return texts;
}

void read_code_text(const Scalar& key, const Node& node, ProfileDraft& draft,
                    Diagnostics& diagnostics) {
  const auto range = read_code_range(key, diagnostics);
  std::vector<std::string> texts = read_texts(node, fmt::format("`{}`", key.text), diagnostics);
  if (!range || texts.empty()) return;
  const std::size_t count = std::size_t{range->last.bits()} - range->first.bits() + 1;
  if (texts.size() == count || (texts.size() == 1 && node.kind == facts::NodeKind::scalar)) {
    draft.code_texts.push_back({*range, std::move(texts)});
    return;
  }
  diagnostics.add(code_texts_uneven, key.place,
                  fmt::format("`{}` is {} codes and has {} texts: write one for each, or a single "
                              "text for all",
                              key.text, count, texts.size()));
}

}  // namespace

std::optional<CodeRange> read_code_range(const Scalar& text, Diagnostics& diagnostics) {
  constexpr std::string_view to = " to ";
  const std::size_t middle = text.text.find(to);
  if (middle == std::string::npos) {
    const auto code = read_code(text, diagnostics);
    if (!code) return std::nullopt;
    return CodeRange{*code, *code, text.place};
  }
  const auto first = read_code(part_of(text, 0, middle), diagnostics);
  const auto last = read_code(part_of(text, middle + to.size(), std::string::npos), diagnostics);
  if (!first || !last) return std::nullopt;
  if (*first <= *last && first->text().front() == last->text().front()) {
    return CodeRange{*first, *last, text.place};
  }
  diagnostics.add(code_shape, text.place,
                  "a range of codes goes from the lower to the higher one of the same letter");
  return std::nullopt;
}

void read_code_texts(const Node& node, ProfileDraft& draft, Diagnostics& diagnostics) {
  for (const auto& [key, value] : entries_of(node, "`code_texts`", most_code_texts, diagnostics)) {
    read_code_text(key, *value, draft, diagnostics);
  }
}

void read_controllers(const Node& node, ProfileDraft& draft, Diagnostics& diagnostics) {
  for (const auto& [name, value] : entries_of(node, "`controllers`", most_entries, diagnostics)) {
    draft.controllers.push_back(
        {name, read_code_ranges(*value, fmt::format("`{}`", name.text), diagnostics)});
  }
}

void read_codes(const Node& node, ProfileDraft& draft, Diagnostics& diagnostics) {
  for (const auto& [name, value] : entries_of(node, "`codes`", most_entries, diagnostics)) {
    read_family(name, *value, draft, diagnostics);
  }
}

}  // namespace slipcase::profile
