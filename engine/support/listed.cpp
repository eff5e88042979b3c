#include "support/listed.h"

#include <map>
#include <tuple>
#include <utility>

#include <fmt/core.h>

namespace slipcase {

namespace {

struct Rest {
  std::size_t kept = 0;
  std::size_t last_kept = 0;  // its position among all that are kept
  std::size_t more = 0;
  Place first;  // of those that are not listed
};

using Key = std::pair<SourceId, Severity>;

}  // namespace

void add_not_listed(Diagnostics& diagnostics, Severity severity, std::size_t more, Place first) {
  const bool error = severity == Severity::error;
  diagnostics
      .add(error ? too_many_errors : too_many_warnings, first,
           fmt::format("{} more {}{} in this text {} not listed", more, error ? "error" : "warning",
                       more == 1 ? "" : "s", more == 1 ? "is" : "are"))
      .stands_for = more;
}

Diagnostics listed(const Diagnostics& all) {
  std::map<Key, Rest> counted;
  std::vector<const Diagnostic*> kept;
  for (const Diagnostic& one : all.list()) {
    if (one.place) {
      Rest& rest = counted[{one.place->source, one.severity}];
      const bool is_summary = one.stands_for > 1;
      if (is_summary || rest.kept == most_messages) {
        if (rest.more == 0) rest.first = *one.place;
        rest.more += one.stands_for;
        continue;
      }
      ++rest.kept;
      rest.last_kept = kept.size();
    }
    kept.push_back(&one);
  }
  Diagnostics list;
  for (std::size_t i = 0; i < kept.size(); ++i) {
    const Diagnostic& one = *kept[i];
    list.add({one.name, one.severity}, one.place, one.text).notes = one.notes;
    if (!one.place) continue;
    const Rest& rest = counted.at({one.place->source, one.severity});
    if (rest.more > 0 && rest.last_kept == i)
      add_not_listed(list, one.severity, rest.more, rest.first);
  }
  return list;
}

}  // namespace slipcase
