// What closing a job writes on its card.
#include <algorithm>

#include <fmt/core.h>

#include "facts/job_card.h"
#include "slipcase/book.h"

namespace slipcase {

namespace {

CardChange outcome_text(const char* key, const std::string& value) {
  return {CardChange::Kind::put, {"outcome", key}, CardValue::of(value)};
}

/// One by one where the card has some already.
void add_causes(const char* key, const std::vector<std::string>& causes,
                std::vector<CardChange>& changes) {
  for (const std::string& cause : causes)
    changes.push_back({CardChange::Kind::add, {"outcome", key}, CardValue::of(cause)});
}

/// What became of the complaint is said of the first: the others belong to it (what follows it).
CardChange repair_change(const Closing& closing, const std::string& repair) {
  std::vector<std::pair<std::string, CardValue>> entries{{"done", CardValue::of(repair)},
                                                         {"date", CardValue::of(closing.day)}};
  if (&repair != &closing.repaired.front())
    return {CardChange::Kind::add, {"repairs"}, CardValue::map(std::move(entries))};
  if (!closing.complaint.empty())
    entries.emplace_back("complaint", CardValue::of(closing.complaint));
  if (!closing.after.empty()) entries.emplace_back("after", CardValue::of(closing.after));
  return {CardChange::Kind::add, {"repairs"}, CardValue::map(std::move(entries))};
}

std::string day_closed(std::string_view card_text) {
  SourceSet sources;
  Diagnostics ignored;
  const SourceId source = sources.add("card", std::string(card_text));
  const auto root = facts::read_document(sources, source, facts::card_limits, ignored);
  const facts::Node* outcome = root ? root->find("outcome") : nullptr;
  const facts::Node* closed = outcome != nullptr ? outcome->find("closed") : nullptr;
  return closed != nullptr ? closed->text : std::string();
}

}  // namespace

std::variant<std::vector<CardChange>, std::string> changes_for_closing(const Closing& closing,
                                                                       std::string_view card_text) {
  const std::string closed = day_closed(card_text);
  if (!closed.empty())
    return fmt::format(
        "the job was closed on {}: what has to be different now is changed in the card itself",
        closed);
  if (closing.repaired.empty() && (!closing.complaint.empty() || !closing.after.empty()))
    return std::string(
        "what became of the complaint is said of a repair: name it with --repaired, or add "
        "`complaint:` to the one on the card");
  std::vector<CardChange> changes;
  for (const std::string& repair : closing.repaired)
    changes.push_back(repair_change(closing, repair));
  changes.push_back(outcome_text("closed", closing.day));
  add_causes("confirmed", closing.confirmed, changes);
  add_causes("sound", closing.sound, changes);
  if (!closing.note.empty()) changes.push_back(outcome_text("note", closing.note));
  return changes;
}

}  // namespace slipcase
