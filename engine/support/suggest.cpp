#include "support/suggest.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cstdint>

namespace slipcase {

namespace {

constexpr std::size_t longest_word = 64;
constexpr std::size_t longest_candidate = longest_word + longest_word / 3;

// Optimal string alignment distance (Damerau-Levenshtein with neighbour swaps), three rows.
std::size_t distance(std::string_view a, std::string_view b) {
  using Row = std::array<std::uint8_t, longest_candidate + 1>;
  std::array<Row, 3> rows{};
  const auto row = [&rows](std::size_t i) -> Row& { return rows[i % 3]; };
  for (std::size_t j = 0; j <= b.size(); ++j) row(0)[j] = static_cast<std::uint8_t>(j);
  for (std::size_t i = 1; i <= a.size(); ++i) {
    const Row& last = row(i - 1);
    Row& now = row(i);
    now[0] = static_cast<std::uint8_t>(i);
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const int change = a[i - 1] == b[j - 1] ? 0 : 1;
      int least = std::min({last[j] + 1, now[j - 1] + 1, last[j - 1] + change});
      const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
      if (swapped) least = std::min(least, row(i + 1)[j - 2] + 1);  // two rows back
      now[j] = static_cast<std::uint8_t>(least);
    }
  }
  return row(a.size())[b.size()];
}

/// The letters of a word, and everything else as one.
std::uint32_t letters(std::string_view word) {
  std::uint32_t set = 0;
  for (const char c : word) set |= 1U << (c >= 'a' && c <= 'z' ? c - 'a' : 26);
  return set;
}

/// No more than the distance: every letter of one that the other lacks takes a change of its own.
std::size_t least_distance(std::uint32_t letters_of_a, std::uint32_t letters_of_b) {
  return static_cast<std::size_t>(std::max(std::popcount(letters_of_a & ~letters_of_b),
                                           std::popcount(letters_of_b & ~letters_of_a)));
}

}  // namespace

std::optional<std::string_view> suggest(std::string_view word,
                                        std::span<const std::string> candidates) {
  const std::size_t limit = std::max<std::size_t>(1, word.size() / 3);
  if (word.size() > longest_word) return std::nullopt;
  std::optional<std::string_view> best;
  std::size_t best_distance = limit + 1;
  bool tie = false;
  const std::uint32_t own_letters = letters(word);
  for (const std::string& candidate : candidates) {
    const bool too_long = candidate.size() > word.size() + limit;
    const bool too_short = candidate.size() + limit < word.size();
    if (candidate == word || too_long || too_short) continue;
    if (least_distance(own_letters, letters(candidate)) > limit) continue;
    const std::size_t d = distance(word, candidate);
    if (d < best_distance) {
      best = candidate;
      best_distance = d;
      tie = false;
    } else if (d == best_distance && best && *best != candidate) {
      tie = true;
    }
  }
  return tie ? std::nullopt : best;
}

std::string did_you_mean(std::string_view word, std::span<const std::string> candidates) {
  const auto found = suggest(word, candidates);
  return found ? ", did you mean `" + std::string(*found) + "`?" : "";
}

std::string quoted_list(std::span<const std::string> names, std::size_t most) {
  std::string text;
  const std::size_t shown = std::min(names.size(), most);
  for (std::size_t i = 0; i < shown; ++i) {
    if (i > 0) text += (i + 1 == shown && shown == names.size()) ? " or " : ", ";
    text += "`" + names[i] + "`";
  }
  if (shown < names.size()) text += " and " + std::to_string(names.size() - shown) + " more";
  return text;
}

}  // namespace slipcase
