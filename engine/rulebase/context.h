// What every part of resolving needs: the words of the unit, the names of the rules, a place to
// report.
#pragma once

#include <map>
#include <set>
#include <span>
#include <string>

#include "language/ast.h"
#include "rulebase/layers.h"
#include "rulebase/names.h"
#include "rulebase/rulebase.h"
#include "slipcase/diagnostic.h"

namespace slipcase::rulebase {

class Context {
 public:
  Context(const UnitVocabulary& the_unit, Diagnostics& the_diagnostics)
      : unit(the_unit), diagnostics(the_diagnostics) {}

  const UnitVocabulary& unit;
  Diagnostics& diagnostics;
  Names names;
  std::set<std::string, std::less<>> lost;  // may be names of declarations that could not be read
  Rulebase rules;

  /// The line being resolved stands in a shipped file: it may lead to what the shop took out of
  /// use.
  void enter(Origin origin, const Place& line) {
    origin_ = origin;
    line_ = line;
  }

  /// A name of one of the wanted kinds; reports an unknown name, a wrong kind, a name out of use.
  /// `what_for` finishes "... is needed here" for wrong kinds ("behind `shows`").
  [[nodiscard]] const Symbol* find(const language::Word& word, Kinds wanted,
                                   std::string_view what_for = {});

  /// As `find`, for lines that lead somewhere. `left_out` is set if the line is to be left out
  /// because it is shipped and what it leads to was taken out of use.
  [[nodiscard]] const Symbol* find_target(const language::Word& word, Kinds wanted,
                                          std::string_view what_for, bool& left_out);

  /// False if the member that is meant was taken out of use: that is reported, or `left_out` is set
  /// if there is one and the line is shipped, as in `find_target`.
  [[nodiscard]] bool check_in_use(const language::Word& word, const Symbol& symbol,
                                  const Term& term, bool* left_out = nullptr);

  Diagnostic& error(const Message& message, const Place& place, std::string_view text) {
    return diagnostics.add(message, place, text);
  }

  /// ", did you mean ...?"; silent after many, so that a broken file of a megabyte stays quick.
  [[nodiscard]] std::string did_you_mean(std::string_view word, std::span<const std::string> names);

  /// A member of the unit was named here; only files with a `unit` line may do that.
  void note_member(const Place& place) {
    const auto [first, is_new] = first_member_.try_emplace(place.source, place);
    if (!is_new && place < first->second) first->second = place;
  }
  [[nodiscard]] const std::map<SourceId, Place>& first_member() const { return first_member_; }

  /// The finding has a line with a rate, right or wrong, or one that could not be read.
  void note_rate(FindingId finding) { has_rate_.insert(finding); }
  [[nodiscard]] bool has_rate_line(FindingId finding) const { return has_rate_.contains(finding); }

  [[nodiscard]] const std::string& scope_name(ScopeId scope) const {
    return unit.scope(scope).name;
  }
  [[nodiscard]] const std::string& member_name(ScopeId scope, MemberId member) const {
    return unit.scope(scope).members.at(member.at());
  }

 private:
  void report_unknown(const language::Word& word, Kinds wanted);
  void report_wrong_kind(const language::Word& word, const Symbol& symbol, Kinds wanted,
                         std::string_view what_for);

  Origin origin_ = Origin::own;
  Place line_;
  int suggestions_left_ = 100;
  std::map<SourceId, Place> first_member_;
  std::set<FindingId> has_rate_;
};

}  // namespace slipcase::rulebase
