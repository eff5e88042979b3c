#include "units/date.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <vector>

#include <fmt/core.h>

#include "support/ascii.h"

namespace slipcase::units {

namespace {

// Both texts have been checked to hold digits only.
unsigned number_at(std::string_view text, std::size_t at, std::size_t length) {
  unsigned value = 0;
  for (const char c : text.substr(at, length)) value = value * 10 + static_cast<unsigned>(c - '0');
  return value;
}

bool matches(std::string_view text, std::string_view pattern) {
  return std::equal(text.begin(), text.end(), pattern.begin(), pattern.end(),
                    [](char c, char p) { return p == '0' ? is_digit(c) : c == p; });
}

std::vector<std::string> small_words(std::string_view text) {
  std::vector<std::string> words;
  bool inside = false;
  for (const char c : text) {
    const bool letter = std::isalpha(static_cast<unsigned char>(c)) != 0;
    if (letter && !inside) words.emplace_back();
    if (letter) words.back() += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    inside = letter;
  }
  return words;
}

bool is_month(std::string_view word) {
  constexpr std::array<std::string_view, 12> months{
      "january", "february", "march",     "april",   "may",      "june",
      "july",    "august",   "september", "october", "november", "december"};
  if (word == "sept") return true;
  return std::any_of(months.begin(), months.end(), [word](std::string_view month) {
    return word == month || word == month.substr(0, 3);
  });
}

bool is_vague(std::string_view word) {
  constexpr std::array<std::string_view, 16> vague{
      "early",  "mid",  "middle", "late",  "beginning", "end",      "spring", "summer",
      "autumn", "fall", "winter", "today", "yesterday", "recently", "last",   "ago"};
  return std::find(vague.begin(), vague.end(), word) != vague.end();
}

// Three numbers with one separator between them: 4/22/2031, 17.4.2031, 2031-4-7.
bool is_three_numbers(std::string_view text) {
  std::size_t groups = 1;
  std::size_t digits = 0;
  char separator = '\0';
  for (const char c : text) {
    if (is_digit(c)) {
      ++digits;
      continue;
    }
    const bool separates = c == '/' || c == '.' || c == '-';
    if (!separates || digits == 0 || digits > 4 || (separator != '\0' && c != separator))
      return false;
    separator = c;
    digits = 0;
    ++groups;
  }
  return groups == 3 && digits > 0 && digits <= 4;
}

}  // namespace

bool is_date_shaped(std::string_view text) { return matches(text, "0000-00-00"); }

std::optional<Date> Date::parse(std::string_view text) {
  if (!is_date_shaped(text)) return std::nullopt;
  const std::chrono::year_month_day day{std::chrono::year(static_cast<int>(number_at(text, 0, 4))),
                                        std::chrono::month(number_at(text, 5, 2)),
                                        std::chrono::day(number_at(text, 8, 2))};
  if (!day.ok()) return std::nullopt;
  return Date(std::chrono::sys_days(day));
}

std::string Date::text() const {
  const std::chrono::year_month_day day(days_);
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(day.year()),
                     static_cast<unsigned>(day.month()), static_cast<unsigned>(day.day()));
}

std::optional<Moment> Moment::parse(std::string_view text) {
  const auto date = Date::parse(text.substr(0, 10));
  if (!date) return std::nullopt;
  if (text.size() == 10) return Moment{*date, std::nullopt};
  if (!matches(text.substr(10), " 00:00")) return std::nullopt;
  const unsigned hour = number_at(text, 11, 2);
  const unsigned minute = number_at(text, 14, 2);
  if (hour > 23 || minute > 59) return std::nullopt;
  return Moment{*date, static_cast<std::uint16_t>(hour * 60 + minute)};
}

std::string Moment::text() const {
  if (!minute) return date.text();
  return fmt::format("{} {:02}:{:02}", date.text(), *minute / 60, *minute % 60);
}

bool looks_like_other_date(std::string_view text) {
  if (is_date_shaped(text)) return false;
  if (is_three_numbers(text)) return true;
  const auto words = small_words(text);
  return std::any_of(words.begin(), words.end(),
                     [](const std::string& word) { return is_month(word) || is_vague(word); });
}

}  // namespace slipcase::units
