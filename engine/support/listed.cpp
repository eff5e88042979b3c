#include "support/listed.h"

#include <map>
#include <tuple>
#include <utility>

#include <fmt/core.h>

namespace slipcase {

namespace {

struct Rest {
  std::size_t seen = 0;
  Place first;  // of those that are not listed
};

using Key = std::pair<SourceId, Severity>;

}  // namespace

std::string more_not_listed(std::size_t more, Severity severity) {
  const std::string_view kind = severity == Severity::error ? "error" : "warning";
  return fmt::format("{} more {}{} in this text {} not listed", more, kind, more == 1 ? "" : "s",
                     more == 1 ? "is" : "are");
}

Diagnostics listed(const Diagnostics& all) {
  std::map<Key, Rest> counted;
  Diagnostics kept;
  for (const Diagnostic& one : all.list()) {
    if (one.place) {
      Rest& rest = counted[{one.place->source, one.severity}];
      if (++rest.seen == most_messages + 1) rest.first = *one.place;
      if (rest.seen > most_messages) continue;
    }
    kept.add({one.name, one.severity}, one.place, one.text).notes = one.notes;
  }
  for (const auto& [key, rest] : counted) {
    if (rest.seen <= most_messages) continue;
    const bool error = key.second == Severity::error;
    kept.add(error ? too_many_errors : too_many_warnings, rest.first,
             more_not_listed(rest.seen - most_messages, key.second));
  }
  return kept;
}

}  // namespace slipcase
