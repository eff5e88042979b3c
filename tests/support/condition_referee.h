// Conditions evaluated straight from their definition, as slowly as it takes: the referee for the
// flat code.
//
// It walks the resolved condition itself, with its own Kleene tables, its own reading of
// selections, and unknown readings tried out one possible value after the other.
#pragma once

#include <optional>
#include <vector>

#include "evaluation/job_facts.h"
#include "grounding/ground.h"

namespace slipcase::test {

class ConditionReferee {
 public:
  ConditionReferee(const grounding::GroundRules& rules, const evaluation::JobFacts& facts)
      : rules_(rules), facts_(facts) {}

  /// nullopt: unknown. Knows what `random_condition` makes and throws at anything else.
  [[nodiscard]] std::optional<bool> truth(const rulebase::Condition& condition,
                                          rulebase::MemberId own) const;

 private:
  using Members = std::vector<std::optional<rulebase::MemberId>>;
  using Guess = std::optional<bool>;
  /// Values chosen for readings that are unknown, by ground number.
  using Chosen = std::vector<std::optional<double>>;

  [[nodiscard]] Guess ask(const rulebase::Condition& condition, const Members& members) const;
  [[nodiscard]] Guess quantified(const rulebase::Quantified& node, const Members& members) const;
  template <class Below, class Above>
  [[nodiscard]] Guess between(const std::vector<rulebase::ValuePtr>& values, const Members& members,
                              const Below& below, const Above& above) const;
  template <class Holds>
  [[nodiscard]] Guess over_all_values(const std::vector<rulebase::ValuePtr>& values,
                                      const Members& members, const Holds& holds) const;
  void unknown_in(const rulebase::Value& value, const Members& members,
                  std::vector<std::uint32_t>& readings) const;
  [[nodiscard]] double number(const rulebase::Value& value, const Members& members,
                              const Chosen& chosen) const;
  [[nodiscard]] Members::value_type member(const rulebase::Term& term,
                                           const Members& members) const;
  [[nodiscard]] std::vector<rulebase::MemberId> chosen_by(const rulebase::Selection& selection,
                                                          const Members& members) const;

  const grounding::GroundRules& rules_;
  const evaluation::JobFacts& facts_;
};

}  // namespace slipcase::test
