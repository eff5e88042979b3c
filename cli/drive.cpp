#include "drive.h"

#include "session.h"
#include "terminal.h"

namespace slipcase::cli {

namespace {

/// That the profile has no procedure is printed too, and the status says so.
template <class Result>
Exit print_drive(const Request& request, const Result& result) {
  return std::visit(
      [&](const auto& answer) {
        constexpr bool none = std::is_same_v<std::decay_t<decltype(answer)>, NoProcedure>;
        const Exit printed = print_result(
            request.output.json ? to_json(answer) : to_text(answer, style_of_standard_output()),
            request.output.json);
        return printed == Exit::done && none ? Exit::input_errors : printed;
      },
      result);
}

}  // namespace

Exit run_command(const Request& request, const DriveSheetCommand& command) {
  const auto loaded = load_job_and_rules(request, command.card);
  if (const auto* exit = std::get_if<Exit>(&loaded)) return *exit;
  const auto& [rules, job] = std::get<LoadedJob>(loaded);
  return print_drive(request, drive_sheet(rules.knowledge, job, command.procedure));
}

Exit run_command(const Request& request, const DriveCheckCommand& command) {
  const auto loaded = load_job_and_rules(request, command.card);
  if (const auto* exit = std::get_if<Exit>(&loaded)) return *exit;
  const auto& [rules, job] = std::get<LoadedJob>(loaded);
  Diagnostics diagnostics;
  const DriveCheckLoad check =
      check_drive(rules.knowledge, job, command.paths, diagnostics, command.procedure);
  print_messages(diagnostics, *rules.sources, request.output.json);
  if (!check.result) return exit_for(check.outcome);
  return print_drive(request, *check.result);
}

}  // namespace slipcase::cli
