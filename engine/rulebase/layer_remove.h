// `remove`: a declaration, or lines of it, taken out of use, for all members or for one.
#pragma once

#include <deque>
#include <string>
#include <vector>

#include "rulebase/layers.h"

namespace slipcase::rulebase {

/// Notes at a message the lines of the declaration that have the first word of `wanted`; all of
/// them if there is none.
void note_lines_there(Diagnostic& diagnostic, const UnitVocabulary& unit,
                      const MergedDeclaration& base, const language::Clause& wanted);

class LineRemover {
 public:
  /// `shortened` holds the lists of which entries are taken out.
  LineRemover(const UnitVocabulary& unit, std::deque<language::Clause>& shortened,
              Diagnostics& diagnostics)
      : unit_(unit), shortened_(shortened), diagnostics_(diagnostics) {}

  void remove_whole(MergedDeclaration& base, const language::Declaration& layer,
                    const OnlyFor& member);

  /// `named` has the first word and the target of the line; what else it says does not count. A
  /// list names entries. A line that a member has of its own goes before the one for all.
  void remove_line(MergedDeclaration& base, const language::Clause& named, const OnlyFor& member,
                   LayerChange& change);

 private:
  struct Gone {
    const MergedDeclaration* base;
    std::string line;
    OnlyFor member;
    Place place;
  };

  void remove_entries(MergedDeclaration& base, const language::Clause& named, LayerChange& change);
  bool remove_entry(MergedDeclaration& base, const language::Clause& named,
                    const std::string& entry, LayerChange& change);
  [[nodiscard]] bool is_needed(const MergedDeclaration& base, const language::Clause& named,
                               const OnlyFor& member);
  void report_nothing(const MergedDeclaration& base, const language::Clause& named,
                      const std::string& line, const OnlyFor& member);
  void warn_twice(const Place& place, const std::string& what, const Place& before);
  [[nodiscard]] std::string name_of(const MergedDeclaration& base, const OnlyFor& member) const;

  const UnitVocabulary& unit_;
  std::deque<language::Clause>& shortened_;
  Diagnostics& diagnostics_;
  std::vector<Gone> gone_;
};

}  // namespace slipcase::rulebase
