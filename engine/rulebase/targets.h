// What stands behind `of`: the own member, a named member, or a selection.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "rulebase/context.h"

namespace slipcase::rulebase {

/// The members that names of scopes stand for at a place: the declaration's own one, then those of
/// the quantifiers around, from the outside in.
class Variables {
 public:
  explicit Variables(std::optional<ScopeId> own) : own_(own) {}

  [[nodiscard]] Variables with(ScopeId scope) const {
    Variables inner = *this;
    inner.bound_.push_back(scope);
    return inner;
  }
  /// The innermost that has this scope.
  [[nodiscard]] std::optional<Variable> find(ScopeId scope) const;
  /// The one that the next quantifier binds.
  [[nodiscard]] Variable next() const { return {static_cast<std::uint32_t>(bound_.size() + 1)}; }

 private:
  std::optional<ScopeId> own_;
  std::vector<ScopeId> bound_;
};

/// The word behind `of` for a thing of this scope: a scope that is bound here, or a member.
[[nodiscard]] std::optional<Term> resolve_term(Context& context, const language::Word& word,
                                               ScopeId scope, std::string_view thing,
                                               const Variables& variables);

/// The member that `thing [of word]` means; reports a member too many or too few.
[[nodiscard]] std::optional<Term> resolve_member(Context& context, const Symbol& symbol,
                                                 const language::Word& name,
                                                 const language::Word* of,
                                                 const Variables& variables);

/// A selection in a condition (`every`, `any`, `no`, `at least`).
[[nodiscard]] std::optional<Selection> resolve_selection(Context& context,
                                                         const language::Selection& selection,
                                                         const Variables& variables);

/// One member, for places where no selection can stand. `instead` tells what to write for several.
[[nodiscard]] std::optional<Term> resolve_single(Context& context, const Symbol& symbol,
                                                 const language::Reference& reference,
                                                 const Variables& variables,
                                                 std::string_view instead);

/// What a line leads to: one member, or `each` of a selection.
[[nodiscard]] std::optional<Reach> resolve_reach(Context& context, const Symbol& symbol,
                                                 const language::Reference& reference,
                                                 const Variables& variables,
                                                 std::string_view line_word);

}  // namespace slipcase::rulebase
