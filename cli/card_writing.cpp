#include "card_writing.h"

#include <algorithm>

#include "messages.h"
#include "slipcase/write_card.h"
#include "terminal.h"

namespace slipcase::cli {

namespace {

/// The same of the same line.
bool is_same(const Diagnostic& a, const Diagnostic& b, const SourceSet& sources) {
  const auto line = [&](const Diagnostic& one) {
    return one.place ? sources.line_at(one.place->source, one.place->begin) : std::string_view();
  };
  return a.name == b.name && a.text == b.text && line(a) == line(b);
}

/// What was not told of the card as it was before: it is read once more when it is changed.
Diagnostics not_told(const Diagnostics& all, const Diagnostics& told, const SourceSet& sources) {
  std::vector<const Diagnostic*> before;
  for (const Diagnostic& one : told.list()) before.push_back(&one);
  Diagnostics list;
  for (const Diagnostic& one : all.list()) {
    const auto same = std::find_if(before.begin(), before.end(), [&](const Diagnostic* other) {
      return is_same(*other, one, sources);
    });
    if (same != before.end()) {
      before.erase(same);
      continue;
    }
    Diagnostic& added = list.add({one.name, one.severity}, one.place, one.text);
    added.notes = one.notes;
    added.stands_for = one.stands_for;
  }
  return list;
}

}  // namespace

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
    print_messages(not_told(diagnostics, card.told, *card.rules.sources), *card.rules.sources,
                   request.output.json);
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
