#include "drive.h"

#include "card_writing.h"
#include "clock.h"
#include "messages.h"
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

Exit refuse_record(const Request& request, const std::string& why) {
  print_error(drive_not_recorded, why, request.output.json);
  return Exit::input_errors;
}

std::string why_no_record(const DriveCheck& check) {
  if (!check.complete) return "the drive is not complete, so it was not written";
  for (const Precondition& one : check.before) {
    if (one.proof != Proof::contradicted) continue;
    return "the card says that this was not so before the drive, so it was not written: " +
           one.says + " (" + one.because + ")";
  }
  return "the rules have no repair of the procedure's name, so the drive was not written";
}

Exit record_drive(const Request& request, const DriveCheckCommand& command,
                  const DriveCheck& check) {
  if (!check.record) return refuse_record(request, why_no_record(check));
  const std::string day = command.day.empty() ? today() : command.day;
  const auto changed = change_card(
      request, command.card,
      [&](const LoadedCard& card) -> std::variant<std::vector<CardChange>, Exit> {
        auto changes = changes_for_drive(*check.record, day, command.odometer, card.card.text);
        if (auto* list = std::get_if<std::vector<CardChange>>(&changes)) return std::move(*list);
        return refuse_record(request, std::get<std::string>(changes));
      });
  if (const auto* exit = std::get_if<Exit>(&changed)) return *exit;
  if (request.output.json) return Exit::done;
  return print_result(
      "\nwritten: " + check.record->done + " of " + day + " onto " + command.card.string() + "\n",
      false);
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
  const Exit printed = print_drive(request, *check.result);
  const auto* driven = std::get_if<DriveCheck>(&*check.result);
  const bool record = printed == Exit::done && driven != nullptr && command.record;
  return record ? record_drive(request, command, *driven) : printed;
}

}  // namespace slipcase::cli
