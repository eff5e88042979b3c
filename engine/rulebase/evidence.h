// What counts as seen: findings that causes and insides show, and what such findings are worked out
// from.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "rulebase/rulebase.h"
#include "rulebase/uses.h"

namespace slipcase::rulebase {

class Evidence {
 public:
  explicit Evidence(const Rulebase& rules);

  /// The first line that shows the finding.
  [[nodiscard]] std::optional<Place> shown_by(FindingId finding) const {
    return shown_by_.at(finding.at());
  }

  struct Shown {
    Place asked;  // in the condition
    std::string why;
    std::optional<Place> shown;  // the line that shows it
  };
  /// The first thing in the condition that a cause or an inside can show.
  [[nodiscard]] std::optional<Shown> shown_in(const Condition& condition) const;

 private:
  [[nodiscard]] std::optional<Shown> directly_in(const Uses& uses) const;

  const Rulebase& rules_;
  std::vector<std::optional<Place>> shown_by_;
};

}  // namespace slipcase::rulebase
