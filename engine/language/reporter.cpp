#include "language/reporter.h"

#include <utility>

#include "support/listed.h"

namespace slipcase::language {

void Reporter::error(const Message& message, Place place, std::string text,
                     std::optional<Note> note) {
  if (entries_.contains(place.begin)) return;
  if (entries_.size() >= most_messages || !more_.empty()) {
    more_.try_emplace(place.begin, place);
    return;
  }
  entries_.try_emplace(place.begin, Entry{message, place, std::move(text), std::move(note)});
}

void Reporter::withdraw(std::uint32_t begin, std::uint32_t end) {
  entries_.erase(entries_.lower_bound(begin), entries_.lower_bound(end));
  more_.erase(more_.lower_bound(begin), more_.lower_bound(end));
}

Diagnostics Reporter::take() {
  Diagnostics found;
  for (auto& [offset, entry] : entries_) {
    Diagnostic& added = found.add(entry.message, entry.place, std::move(entry.text));
    if (entry.note) added.notes.push_back(std::move(*entry.note));
  }
  if (!more_.empty()) add_not_listed(found, Severity::error, more_.size(), more_.begin()->second);
  entries_.clear();
  more_.clear();
  return found;
}

}  // namespace slipcase::language
