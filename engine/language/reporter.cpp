#include "language/reporter.h"

#include <utility>

#include <fmt/core.h>

#include "language/messages.h"

namespace slipcase::language {

void Reporter::error(const Message& message, Place place, std::string text,
                     std::optional<Note> note) {
  if (full_ || entries_.contains(place.begin)) return;
  if (entries_.size() == most_messages) {
    full_ = true;
    text = fmt::format("more than {} errors in this text: the rest is not listed", most_messages);
    entries_.try_emplace(place.begin, Entry{too_many_errors, place, std::move(text), {}});
    return;
  }
  entries_.try_emplace(place.begin, Entry{message, place, std::move(text), std::move(note)});
}

void Reporter::withdraw(std::uint32_t begin, std::uint32_t end) {
  entries_.erase(entries_.lower_bound(begin), entries_.lower_bound(end));
}

Diagnostics Reporter::take() {
  Diagnostics found;
  for (auto& [offset, entry] : entries_) {
    Diagnostic& added = found.add(entry.message, entry.place, std::move(entry.text));
    if (entry.note) added.notes.push_back(std::move(*entry.note));
  }
  entries_.clear();
  return found;
}

}  // namespace slipcase::language
