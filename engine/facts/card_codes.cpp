// `codes`: a list, or a list for each controller that was read.
#include <fmt/core.h>

#include "facts/card_messages.h"
#include "facts/card_reader.h"
#include "facts/document_messages.h"

namespace slipcase::facts {

namespace {

std::optional<units::TroubleCode> read_code_text(const Node& node, Diagnostics& diagnostics) {
  const auto scalar = read_scalar(node, "a trouble code", diagnostics);
  if (!scalar) return std::nullopt;
  const auto code = units::TroubleCode::parse(scalar->text);
  if (!code) {
    diagnostics.add(
        code_shape, scalar->place,
        fmt::format("`{}` is no trouble code: one letter P, C, B or U, one digit 0 to 3, then "
                    "three of 0 to 9 and A to F, such as `P0733`",
                    scalar->text));
  }
  return code;
}

std::optional<CardCode> read_code_map(const Node& node, Diagnostics& diagnostics) {
  auto map = MapReader::of(node, "a code", diagnostics);
  if (!map) return std::nullopt;
  std::optional<CardCode> result;
  if (const Node* code = map->required("code")) {
    if (const auto read = read_code_text(*code, diagnostics)) {
      result = CardCode{*read, false, {}, {}, {}, code->place};
    }
  }
  // Read with or without a code, so that all its mistakes are reported.
  CardCode rest =
      result.value_or(CardCode{units::TroubleCode::from_bits(0), false, {}, {}, {}, {}});
  if (const Node* state = map->optional("state")) {
    rest.pending = read_choice(*state, "`state`", {"stored", "pending"}, diagnostics) == 1U;
  }
  if (const Node* value = map->optional("temperature")) {
    rest.temperature = read_temperature(*value, diagnostics);
  }
  if (const Node* value = map->optional("odometer"))
    rest.odometer = read_odometer(*value, diagnostics);
  if (const Node* value = map->optional("date")) rest.date = read_date(*value, diagnostics);
  map->finish("; write the rest of a freeze frame behind `#`, for people to read");
  if (!result) return std::nullopt;
  return rest;
}

/// `[none]`; `what` is the key in back quotes.
void report_none(const Node& item, std::string_view what, Diagnostics& diagnostics) {
  const std::string_view key = what.substr(1, what.size() - 2);
  diagnostics.add(
      code_shape, item.place,
      fmt::format("`none` is no trouble code: where none is stored, write `{}: none`", key));
}

std::vector<CardCode> read_code_list(const Node& node, std::string_view what,
                                     Diagnostics& diagnostics) {
  std::vector<CardCode> codes;
  if (node.kind == NodeKind::null) {
    diagnostics.add(
        codes_empty, node.place,
        fmt::format("nothing is written for {}: `none` if they were read and none is stored; "
                    "leave the key out if they were not read",
                    what));
    return codes;
  }
  if (node.kind == NodeKind::scalar && node.text == "none") return codes;
  for (const Node* item : read_list(node, what, true, diagnostics)) {
    if (item->kind == NodeKind::map) {
      if (auto code = read_code_map(*item, diagnostics)) codes.push_back(*code);
    } else if (item->kind == NodeKind::scalar && item->text == "none") {
      report_none(*item, what, diagnostics);
    } else if (const auto code = read_code_text(*item, diagnostics)) {
      codes.push_back({*code, false, {}, {}, {}, item->place});
    }
  }
  return codes;
}

}  // namespace

std::optional<std::vector<ControllerCodes>> read_codes(const Node& node, Diagnostics& diagnostics) {
  std::vector<ControllerCodes> controllers;
  if (node.kind == NodeKind::refused) return std::nullopt;
  if (node.kind != NodeKind::map) {
    controllers.push_back({std::nullopt, read_code_list(node, "`codes`", diagnostics)});
    return controllers;
  }
  if (node.entries.empty()) {
    diagnostics.add(codes_empty, node.place,
                    "no controller is named here: `none` if they were read and none is stored");
    return std::nullopt;
  }
  if (const Node* code = node.find("code")) {
    diagnostics.add(wrong_shape, code->place, "`codes` is a list: write `- ` before this code");
    return std::nullopt;
  }
  for (const auto& [key, value] : node.entries) {
    const auto name = read_reference(key, "a controller", diagnostics);
    auto codes = read_code_list(value, fmt::format("`{}`", key.text), diagnostics);
    if (!name.name.faulty) controllers.push_back({name.name, std::move(codes)});
  }
  return controllers;
}

}  // namespace slipcase::facts
