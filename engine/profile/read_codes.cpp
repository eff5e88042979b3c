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

}  // namespace

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
