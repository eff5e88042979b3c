// Rules from a text, unrolled for an invented six-speed.
#pragma once

#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "grounding/ground.h"

namespace slipcase::test {

/// Elements K1 K2 K3 B1 B2, gears R and 1 to 6, ten shifts, ranges P R N D. `rotating` marks the
/// K's, `unused` marks nothing. Throws with the messages if the text does not resolve: a slip in a
/// test.
struct GroundBench {
  explicit GroundBench(std::string_view rules_text);
  /// With one rule base exchanged for another of the same unit.
  GroundBench(const GroundBench& other, rulebase::Rulebase changed);

  /// The shipped six-speed and its rules.
  [[nodiscard]] static GroundBench shipped();

  /// Names of what `ground` had to say.
  [[nodiscard]] std::vector<std::string> messages() const;

  SourceSet sources;
  std::shared_ptr<const profile::Profile> profile;
  std::shared_ptr<const rulebase::Rulebase> rules;
  Diagnostics diagnostics;
  std::shared_ptr<const grounding::GroundRules> ground;  // null if there were errors

 private:
  GroundBench() = default;
  void unroll();
};

/// Throws the messages as text.
[[noreturn]] void give_up(const Diagnostics& diagnostics, const SourceSet& sources);

}  // namespace slipcase::test
