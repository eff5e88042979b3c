#include "support/near_names.h"

#include <algorithm>

#include "support/suggest.h"

namespace slipcase {

namespace {

/// Shorter parts (`of`, `at`, `in`, `2`) are in too many names to tell anything.
constexpr std::size_t shortest_part = 3;
/// So much of the beginning may stand for the whole part, whatever follows.
constexpr std::size_t shortest_beginning = 4;

std::vector<std::string_view> parts_of(std::string_view word) {
  std::vector<std::string_view> parts;
  while (true) {
    const std::size_t end = word.find('_');
    if (end >= shortest_part && word.substr(0, end).size() >= shortest_part)
      parts.push_back(word.substr(0, end));
    if (end == std::string_view::npos) return parts;
    word.remove_prefix(end + 1);
  }
}

/// Letters that two parts have in common: all, or the beginning of both, as in `temp` and
/// `temperature`, `rebuild` and `rebuilt`.
std::size_t in_common(std::string_view a, std::string_view b) {
  const auto differs = std::mismatch(a.begin(), a.end(), b.begin(), b.end());
  const auto same = static_cast<std::size_t>(differs.first - a.begin());
  if (same == a.size() && same == b.size()) return same;
  const bool beginning = same == std::min(a.size(), b.size()) || same + 1 >= a.size();
  return beginning && same >= shortest_beginning ? same : 0;
}

std::size_t shared(std::span<const std::string_view> parts, std::string_view candidate) {
  std::size_t letters = 0;
  const std::vector<std::string_view> others = parts_of(candidate);
  for (const std::string_view part : parts) {
    std::size_t best = 0;
    for (const std::string_view other : others) best = std::max(best, in_common(part, other));
    letters += best;
  }
  return letters;
}

struct Match {
  const std::string* name;
  std::size_t letters;
};

/// Most in common first, then the shortest.
std::vector<Match> matches_of(std::string_view word, std::span<const std::string> candidates) {
  const std::vector<std::string_view> parts = parts_of(word);
  std::vector<Match> matches;
  for (const std::string& candidate : candidates) {
    const bool holds = word.size() >= shortest_part && candidate.find(word) != std::string::npos;
    const std::size_t letters = holds ? word.size() + 1 : shared(parts, candidate);
    if (letters > 0 && candidate != word) matches.push_back({&candidate, letters});
  }
  std::stable_sort(matches.begin(), matches.end(), [](const Match& a, const Match& b) {
    if (a.letters != b.letters) return a.letters > b.letters;
    return a.name->size() < b.name->size();
  });
  return matches;
}

}  // namespace

NearNames near_names(std::string_view word, std::span<const std::string> candidates) {
  if (const auto nearest = suggest(word, candidates)) return {{std::string(*nearest)}, true};
  NearNames near;
  const std::vector<Match> matches = matches_of(word, candidates);
  const std::size_t best = matches.empty() ? 0 : matches.front().letters;
  std::size_t letters = 0;
  for (const std::string_view part : parts_of(word)) letters += part.size();
  near.sure = best > 0 && best >= letters;
  for (const Match& match : matches) {
    if (near.names.size() == most_near_names || match.letters < best) break;
    near.names.push_back(*match.name);
  }
  return near;
}

std::string name_hint(std::string_view word, std::span<const std::string> candidates) {
  constexpr std::size_t few = 6;
  const NearNames near = near_names(word, candidates);
  std::string hint;
  if (!near.names.empty()) hint = ", did you mean " + quoted_list(near.names) + "?";
  if (near.sure || candidates.empty()) return hint;
  if (candidates.size() <= few) return "; there is only " + quoted_list(candidates);
  return hint + (hint.empty() ? ";" : "") + " `slipcase rules list` shows them all";
}

}  // namespace slipcase
