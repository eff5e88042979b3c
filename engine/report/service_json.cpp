// The calculators' answers as JSON.
#include "report/json_parts.h"
#include "slipcase/report.h"

namespace slipcase {

namespace {

using report::dumped;
using report::Json;
using report::list_json;

Json known(const std::optional<double>& value) { return value ? Json(*value) : Json(nullptr); }

Json line_json(const GearLine& line) {
  Json json{{"gear", line.gear}, {"ratio", line.ratio}, {"step", known(line.step)}};
  json["loads"] = list_json(line.loads, [](const GearLoad& load) {
    return Json{{"element", load.element},
                {"torque_share", load.torque_share},
                {"turbine_factor", load.turbine_factor},
                {"output_factor", load.output_factor}};
  });
  if (line.turbine_error) json["turbine_error"] = *line.turbine_error;
  return json;
}

Json asked_json(const GearAtSpeed& asked) {
  Json json{{"gear", asked.gear}};
  if (asked.expected_turbine) json["expected_turbine"] = *asked.expected_turbine;
  if (asked.expected_output) json["expected_output"] = *asked.expected_output;
  if (!asked.turbine_error) return json;
  json["turbine_error"] = *asked.turbine_error;
  json["within_noise"] = asked.within_noise;
  json["fits_instead"] = asked.fits_instead;
  json["suspects"] = list_json(asked.suspects, [](const SlipSuspect& suspect) {
    return Json{{"element", suspect.element},
                {"slip", suspect.slip},
                {"torque_share", suspect.torque_share},
                {"tells_in", list_json(suspect.tells_in, [](const GearWithShare& gear) {
                   return Json{{"gear", gear.gear}, {"torque_share", gear.torque_share}};
                 })}};
  });
  return json;
}

std::string_view author_name(CodeAuthor author) {
  switch (author) {
    case CodeAuthor::standard:
      return "standard";
    case CodeAuthor::manufacturer:
      return "manufacturer";
    case CodeAuthor::reserved:
      return "reserved";
  }
  return "";
}

Json part_json(const CodePart& part) {
  return {{"family", part.family},     {"scope", part.scope},     {"member", part.member},
          {"elements", part.elements}, {"applies", part.applies}, {"releases", part.releases},
          {"gears", part.gears}};
}

Json code_json(const CodeMeaning& code) {
  return {{"code", code.code},
          {"bytes", code.bytes},
          {"system", code.system},
          {"group", code.group},
          {"defined_by", author_name(code.author)},
          {"text", code.text.empty() ? Json(nullptr) : Json(code.text)},
          {"controller", code.controller.empty() ? Json(nullptr) : Json(code.controller)},
          {"parts", list_json(code.parts, part_json)},
          {"letter_open", code.letter_open}};
}

}  // namespace

std::string to_json(const GearRatios& ratios) {
  Json json{{"unit", ratios.unit},
            {"gears", list_json(ratios.gears, line_json)},
            {"span", ratios.span},
            {"slip_noise", known(ratios.slip_noise)},
            {"turbine", known(ratios.turbine)},
            {"output", known(ratios.output)}};
  if (ratios.asked) json["asked"] = asked_json(*ratios.asked);
  return dumped(json);
}

std::string to_json(const FluidLevel& level) {
  return dumped(
      {{"unit", level.unit},
       {"set_at", level.set_at},
       {"fill", level.fill},
       {"density", level.density},
       {"window", level.window_low ? Json{*level.window_low, *level.window_high} : Json(nullptr)},
       {"set_in_window", level.set_in_window()},
       {"at", list_json(level.at, [](const LevelAt& at) {
          return Json{{"temperature", at.temperature},
                      {"too_much", at.too_much},
                      {"reads_off", at.reads_off}};
        })}});
}

std::string to_json(const CodeMeanings& meanings) {
  return dumped({{"unit", meanings.unit},
                 {"codes", list_json(meanings.codes, code_json)},
                 {"common_gears", meanings.common_gears},
                 {"common_elements", meanings.common_elements},
                 {"save_first", meanings.save_first}});
}

}  // namespace slipcase
