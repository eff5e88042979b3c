#include "service.h"

#include "session.h"
#include "terminal.h"

namespace slipcase::cli {

namespace {

/// `ask` puts the question to the unit; nothing comes back where the question was wrong.
template <class Ask>
Exit answer(const Request& request, const Ask& ask) {
  const auto loaded = load_unit_profile(request);
  if (const auto* exit = std::get_if<Exit>(&loaded)) return *exit;
  const auto& [unit, sources] = std::get<LoadedUnit>(loaded);
  Diagnostics diagnostics;
  const auto result = ask(unit, diagnostics);
  print_messages(diagnostics, *sources, request.output.json);
  if (!result) return Exit::input_errors;
  return print_result(
      request.output.json ? to_json(*result) : to_text(*result, style_of_standard_output()),
      request.output.json);
}

}  // namespace

Exit run_command(const Request& request, const RatioCommand& command) {
  return answer(request, [&command](const Unit& unit, Diagnostics& diagnostics) {
    return gear_ratios(unit, command.question, diagnostics);
  });
}

Exit run_command(const Request& request, const LevelCommand& command) {
  return answer(request, [&command](const Unit& unit, Diagnostics& diagnostics) {
    return fluid_level(unit, command.question, diagnostics);
  });
}

Exit run_command(const Request& request, const CodeCommand& command) {
  return answer(request, [&command](const Unit& unit, Diagnostics& diagnostics) {
    return explain_codes(unit, command.words, diagnostics);
  });
}

}  // namespace slipcase::cli
