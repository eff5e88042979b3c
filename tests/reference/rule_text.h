// Writes networks from outside as rule files and job cards, for the shipped unit profile.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "reference/share.h"

namespace reference {

class RuleText {
 public:
  RuleText();

  /// `shows` counts jobs with this cause and no other, whatever made the finding show.
  void cause(std::string_view name, const Share& found,
             const std::vector<std::pair<std::string, Share>>& shows);
  void finding(std::string_view name, const Share& otherwise);
  void check(std::string_view name, std::string_view flagged, const Share& bad, const Share& good);

  [[nodiscard]] const std::string& text() const { return text_; }

 private:
  std::string text_;
};

/// A card on which each finding is answered `yes` or `no`, and each check was done with that
/// result.
struct Answers {
  std::vector<std::pair<std::string, bool>> findings;
  std::vector<std::pair<std::string, bool>> checks;
};
[[nodiscard]] std::string card_text(const Answers& answers);

/// "D17" as a name of the language: "d17".
[[nodiscard]] std::string as_name(std::string_view id);

}  // namespace reference
