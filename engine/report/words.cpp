#include "report/words.h"

#include <cmath>

namespace slipcase::report {

std::string_view strength_word(double log_factor) {
  const double times = std::exp(std::fabs(log_factor));
  if (times < 1.5) return "slightly";
  if (times < 3.0) return "somewhat";
  if (times < 10.0) return "clearly";
  return "strongly";
}

std::string seen_text(std::string_view says, FindingState state, std::string_view grade) {
  std::string text = state == FindingState::absent ? "not so: " : "";
  text += says;
  if (!grade.empty()) text += " (" + std::string(grade) + ")";
  return text;
}

bool fits_others_better(FindingState state, double log_factor) {
  return state == FindingState::present && log_factor < 0.0;
}

std::string_view state_word(FindingState state) {
  switch (state) {
    case FindingState::present:
      return "present";
    case FindingState::absent:
      return "absent";
    case FindingState::unknown:
      return "unknown";
    case FindingState::left_out:
      return "left_out";
    case FindingState::set_aside:
      return "set_aside";
  }
  return "unknown";
}

std::string joined(const std::vector<std::string>& parts) {
  std::string text;
  for (const std::string& part : parts) text += (text.empty() ? "" : ", ") + part;
  return text;
}

std::string joined(const std::vector<std::string>& parts, std::string_view last_word) {
  if (parts.size() < 2) return joined(parts);
  const std::vector<std::string> but_last(parts.begin(), parts.end() - 1);
  return joined(but_last) + " " + std::string(last_word) + " " + parts.back();
}

}  // namespace slipcase::report
