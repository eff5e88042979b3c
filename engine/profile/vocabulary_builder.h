// Builds the words that a profile gives to rules, and refuses those that would be read as another.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "profile/draft.h"
#include "rulebase/unit_vocabulary.h"
#include "slipcase/diagnostic.h"

namespace slipcase::profile {

using rulebase::MemberId;
using rulebase::ScopeId;

/// What a word of a profile stands for; one word stands for one kind of thing.
enum class WordKind : std::uint8_t { scope, mark, relation, code_family, reading, event };

using Holds = std::vector<std::vector<bool>>;  // [subject][object]

/// A relation and the words for it from both ends, with its negative where that has words.
struct RelationWords {
  Scalar word;
  Scalar inverse;
  std::optional<std::pair<Scalar, Scalar>> negative;
};

class VocabularyBuilder {
 public:
  explicit VocabularyBuilder(Diagnostics& diagnostics) : diagnostics_(diagnostics) {}

  /// Takes a word for one kind of thing. False, and reported, where it cannot be that.
  bool take(const Scalar& word, WordKind kind);

  /// The plural is the name with an s where none is given.
  ScopeId add_scope(const Scalar& name, const std::optional<Scalar>& plural,
                    const std::vector<Scalar>& members);
  void add_mark(ScopeId scope, const Scalar& name, std::vector<bool> on);
  void add_relation(ScopeId subject, ScopeId object, const RelationWords& words,
                    const Holds& holds);
  void add_code_family(const Scalar& name, std::optional<ScopeId> scope);
  /// No member may be named like a scope; to be asked when all scopes are there.
  void check_members();

  /// Members of this scope may be missing because of another mistake; not finding one is none.
  void set_incomplete(ScopeId scope) { incomplete_.push_back(scope); }

  /// Both report what is not there.
  [[nodiscard]] std::optional<ScopeId> scope(const Scalar& name);
  [[nodiscard]] std::optional<MemberId> member(ScopeId scope, const Scalar& name);
  /// Each at most once; those that are there.
  [[nodiscard]] std::vector<MemberId> members(ScopeId scope, const std::vector<Scalar>& names);

  [[nodiscard]] const rulebase::UnitVocabulary& vocabulary() const { return vocabulary_; }
  [[nodiscard]] rulebase::UnitVocabulary finish() { return std::move(vocabulary_); }
  [[nodiscard]] Diagnostics& diagnostics() { return diagnostics_; }

 private:
  void add_one_way(ScopeId subject, ScopeId object, const Scalar& word, Holds holds);

  Diagnostics& diagnostics_;
  rulebase::UnitVocabulary vocabulary_;
  std::map<std::string, std::pair<WordKind, Place>, std::less<>> words_;
  std::vector<std::vector<Scalar>> members_;  // as written, for places
  std::vector<ScopeId> incomplete_;
};

/// A word that the engine brings itself; messages about it have no place of their own.
[[nodiscard]] Scalar own_word(std::string_view word);

}  // namespace slipcase::profile
