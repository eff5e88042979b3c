// Any text as a card that is changed: what comes back says the same and the change, and nothing of
// the text is lost.
#include <cstdlib>
#include <string>

#include "facts/document_edit.h"
#include "facts/job_card.h"

namespace {

using namespace slipcase;

/// Every byte of `text` is still there, in its order: an addition only adds.
bool holds(const std::string& changed, const std::string& text) {
  std::size_t at = 0;
  for (const char c : text) {
    at = changed.find(c, at);
    if (at == std::string::npos) return false;
    ++at;
  }
  return true;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(data, data + size);
  const CardValue event = CardValue::map(
      {{"what", CardValue::of("battery_flat")}, {"date", CardValue::of("2031-03-02")}});
  const std::vector<std::string> answer{"answers", "a_new_finding", "2-3"};
  const std::vector<std::string> note{"outcome", "a_new_note"};
  const std::vector<std::string> events{"events"};
  for (const auto& changed :
       {facts::with_value(text, answer, CardValue::of("no"), facts::card_limits),
        facts::with_value(text, note, CardValue::of("odd: # \"text\"\n"), facts::card_limits),
        facts::with_item(text, events, event, facts::card_limits)}) {
    if (!changed) continue;
    const bool list_made = text.find("events") != std::string::npos;  // of a single value
    if (!list_made && !holds(*changed, text)) std::abort();
    SourceSet sources;
    Diagnostics diagnostics;
    const SourceId source = sources.add("card.yaml", *changed);
    if (!facts::read_document(sources, source, facts::card_limits, diagnostics) ||
        diagnostics.has_errors())
      std::abort();
  }
  return 0;
}
