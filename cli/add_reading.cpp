#include "add_reading.h"

#include "book.h"
#include "card_writing.h"
#include "messages.h"
#include "terminal.h"

namespace slipcase::cli {

Exit run_command(const Request& request, const AddReadingCommand& command) {
  if (command.given.values.empty() && command.given.table.empty()) {
    print_error(wrong_usage,
                "there is nothing to add: give --value \"fill_pressure of K1=40 mbar\", or --table "
                "and --columns",
                request.output.json);
    return Exit::wrong_usage;
  }
  const auto path = find_card(request, command.book, command.job);
  if (const auto* exit = std::get_if<Exit>(&path)) return *exit;
  std::optional<AddedReadings> added;
  const auto changed =
      change_card(request, std::get<std::filesystem::path>(path),
                  [&](const LoadedCard& card) -> std::variant<std::vector<CardChange>, Exit> {
                    Diagnostics diagnostics;
                    AddReadings result = add_readings(command.given, card.card, card.job,
                                                      card.rules.knowledge, diagnostics);
                    print_messages(diagnostics, *card.rules.sources, request.output.json);
                    if (!result.readings) return exit_for(result.outcome);
                    added = std::move(result.readings);
                    return std::move(result.changes);
                  });
  if (const auto* exit = std::get_if<Exit>(&changed)) return *exit;
  return print_result(
      request.output.json ? to_json(*added) : to_text(*added, style_of_standard_output()),
      request.output.json);
}

}  // namespace slipcase::cli
