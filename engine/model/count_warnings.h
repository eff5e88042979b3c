// Warnings of counts that cannot all be true together.
#pragma once

#include <set>
#include <string>
#include <utility>
#include <vector>

#include "grounding/ground.h"
#include "model/overall.h"
#include "slipcase/diagnostic.h"

namespace slipcase::model {

/// A line that leads to a finding.
struct CountedLink {
  std::string from;  // what shows it
  const rulebase::GradedLine* line = nullptr;
  Place place;
};

class CountWarnings {
 public:
  CountWarnings(const grounding::GroundRules& ground, Diagnostics& diagnostics)
      : ground_(ground), diagnostics_(diagnostics) {}

  /// The line counts this grade in fewer jobs than there are with none of the causes.
  void below_the_rest(const CountedLink& link, grounding::GroundFinding finding, std::size_t grade,
                      Probability rest);
  void grades_disagree(const CountedLink& link, grounding::GroundFinding finding);

  /// What an `overall` line says and what the counts make of it.
  struct Overall {
    grounding::GroundFinding finding;
    const rulebase::GradedLine& line;
    const SolvedRates& solved;
    const std::vector<CountedParent>& parents;
    const std::vector<std::string>& names;  // of the parents
  };
  void overall(const Overall& overall, Expectation& expectation);

 private:
  void exceeded(const Overall& overall, std::size_t grade, Expectation& expectation);
  void missed(const Overall& overall, std::size_t grade);
  /// "`q1` or more of `f1`": `f1` alone where it has no grades.
  [[nodiscard]] std::string name_of(grounding::GroundFinding finding, std::size_t grade) const;
  [[nodiscard]] bool first_time(const Place& place, const Message& message);

  const grounding::GroundRules& ground_;
  Diagnostics& diagnostics_;
  std::set<std::pair<Place, std::string>> warned_;
};

}  // namespace slipcase::model
