#include "card_writing.h"

#include "messages.h"
#include "slipcase/write_card.h"
#include "terminal.h"

namespace slipcase::cli {

std::variant<LoadedCard, Exit> change_card(const Request& request,
                                           const std::filesystem::path& path,
                                           const ChangesOf& changes_of) {
  if (path == "-") {
    print_error(wrong_usage, "this is written to the card: name its file, not -",
                request.output.json);
    return Exit::wrong_usage;
  }
  for (;;) {
    auto loaded = load_card_and_rules(request, path);
    if (const auto* exit = std::get_if<Exit>(&loaded)) return *exit;
    auto& card = std::get<LoadedCard>(loaded);
    const auto changes = changes_of(card);
    if (const auto* exit = std::get_if<Exit>(&changes)) return *exit;
    const auto& list = std::get<std::vector<CardChange>>(changes);
    Diagnostics diagnostics;
    CardWrite written = write_card(path, card.card, list, card.rules.knowledge, diagnostics);
    print_messages(diagnostics, *card.rules.sources, request.output.json);
    switch (written.outcome) {
      case CardWritten::done:
        card.card = std::move(*written.card);
        card.job = std::move(*written.job);
        return loaded;
      case CardWritten::changed:
        continue;  // somebody else got something written: that counts first
      case CardWritten::refused:
        return Exit::input_errors;
      case CardWritten::failed:
        return Exit::machine_failure;
    }
  }
}

}  // namespace slipcase::cli
