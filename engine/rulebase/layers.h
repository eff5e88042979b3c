// A shop's own layer (`extend`, `revise`, `remove`) laid over the declarations, before any name of
// a line is looked up. A merged line keeps its own place, so messages point at the file it stands
// in.
#pragma once

#include <deque>
#include <optional>
#include <span>
#include <string_view>
#include <utility>
#include <vector>

#include "language/ast.h"
#include "rulebase/rulebase.h"
#include "slipcase/diagnostic.h"

namespace slipcase::rulebase {

/// A line as it holds in the end. Points into the files.
struct MergedClause {
  const language::Clause* clause = nullptr;
  Origin origin = Origin::own;
  OnlyFor only_for;
  std::vector<MemberId> not_for;      // another line was revised in for these
  std::vector<MemberId> removed_for;  // taken out for these, and nothing put in its place
};

struct MergedDeclaration {
  const language::Declaration* declaration = nullptr;
  const language::File* file = nullptr;
  std::optional<ScopeId> scope;
  std::optional<Place> removed;
  std::vector<std::pair<MemberId, Place>> removed_for;  // members for which it is out of use
  bool broken = false;     // a line of it could not be read, here or in a layer
  bool uncertain = false;  // what it is called or stands for could not be read
  std::vector<MergedClause> clauses;
};

struct Merged {
  std::vector<MergedDeclaration> declarations;
  std::deque<language::Clause> shortened;  // lists of which entries were taken out
  std::vector<LayerChange> changes;
};

/// Scopes behind `of` are looked up here, as members need them; unknown ones are reported.
[[nodiscard]] Merged merge_layers(std::span<const language::File> files, const UnitVocabulary& unit,
                                  Diagnostics& diagnostics);

}  // namespace slipcase::rulebase
