#include "support/suggest.h"

#include <algorithm>
#include <vector>

namespace slipcase {

namespace {

// Optimal string alignment distance (Damerau-Levenshtein with neighbour swaps), three rows.
std::size_t distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> before(b.size() + 1);
  std::vector<std::size_t> last(b.size() + 1);
  std::vector<std::size_t> row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) last[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t change = a[i - 1] == b[j - 1] ? 0 : 1;
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + change});
      const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
      if (swapped) row[j] = std::min(row[j], before[j - 2] + 1);
    }
    std::swap(before, last);
    std::swap(last, row);
  }
  return last[b.size()];
}

}  // namespace

std::optional<std::string_view> suggest(std::string_view word,
                                        std::span<const std::string> candidates) {
  const std::size_t limit = std::max<std::size_t>(1, word.size() / 3);
  if (word.size() > 64) return std::nullopt;
  std::optional<std::string_view> best;
  std::size_t best_distance = limit + 1;
  bool tie = false;
  for (const std::string& candidate : candidates) {
    if (candidate == word || candidate.size() > word.size() + limit) continue;
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
