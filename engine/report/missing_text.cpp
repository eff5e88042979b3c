#include "report/missing_text.h"

#include <algorithm>

#include <fmt/core.h>

#include "report/lines.h"
#include "report/words.h"

namespace slipcase::report {

namespace {

std::string says_of(const Ranking& ranking, const std::string& id) {
  const auto at = std::find_if(ranking.causes.begin(), ranking.causes.end(),
                               [&](const RankedCause& cause) { return cause.id == id; });
  return at != ranking.causes.end() ? at->says : id;
}

std::string time_text(double minutes) {
  constexpr double told_in_hours = 90.0;
  constexpr double minutes_an_hour = 60.0;
  return minutes < told_in_hours ? fmt::format("{:.0f} min", minutes)
                                 : fmt::format("{:.1f} h", minutes / minutes_an_hour);
}

/// A check that is its own finding shows a fault or none.
bool is_own_finding(const MissingFinding& missing) { return missing.says == missing.found_by; }

std::string what_to_do(const MissingFinding& missing) {
  if (missing.check.empty()) return missing.asks;
  const std::string check = fmt::format("{} ({})", missing.found_by, time_text(missing.minutes));
  return is_own_finding(missing) ? check : check + ": " + missing.says + "?";
}

std::string what_else(const MissingFinding& missing, std::size_t width) {
  std::string out;
  if (missing.members.size() > 1)
    out += wrapped("of which: " + joined(missing.members) + " tell most", width, 5, 2);
  if (missing.also.empty()) return out;
  std::string also;
  for (const OpenName& name : missing.also) also += (also.empty() ? "" : "; ") + name.says;
  return out + wrapped("tells as well: " + also, width, 5, 2);
}

std::string outcomes(const Ranking& ranking, const MissingFinding& missing) {
  const auto told = [&](const std::string& leader, Probability first_then) {
    return leader == ranking.first ? "the first " + in_plain_counts(first_then)
                                   : "first would be: " + says_of(ranking, leader);
  };
  const bool own = is_own_finding(missing);
  return fmt::format("{} ({}): {}; {}: {}", own ? "a fault" : "yes",
                     in_plain_counts(missing.chance_of_yes),
                     told(missing.leader_if_yes, missing.first_if_yes), own ? "none" : "no",
                     told(missing.leader_if_no, missing.first_if_no));
}

std::string move_text(const CardGap::Move& move) {
  if (move.then.value() == 0.0) return "could rule out: " + move.says;
  const char* way = move.then.value() > move.now.value() ? "raise" : "lower";
  return fmt::format("could {} to {}: {}", way, in_plain_counts(move.then), move.says);
}

/// What could move the same cause in the same way stands together.
struct GapLine {
  std::string result;
  std::vector<std::string> asks;
};

std::vector<GapLine> gap_lines(const Ranking& ranking) {
  constexpr double large = 0.1;  // nothing says how likely it is that the rule applies
  std::vector<GapLine> lines;
  for (const CardGap& gap : ranking.card_gaps) {
    if (gap.moves.empty() || gap.most < large) continue;
    const std::string time = gap.check.empty() ? "" : fmt::format(" ({})", time_text(gap.minutes));
    const std::string result = move_text(gap.moves.front());
    auto line = std::find_if(lines.begin(), lines.end(),
                             [&](const GapLine& l) { return l.result == result; });
    if (line == lines.end()) line = lines.insert(line, GapLine{result, {}});
    line->asks.push_back(gap.asks + time);
  }
  return lines;
}

std::string gaps(const Ranking& ranking, std::size_t width) {
  constexpr std::size_t most_lines = 2;
  constexpr std::size_t most_asked = 3;
  const std::vector<GapLine> lines = gap_lines(ranking);
  std::string out;
  for (std::size_t i = 0; i < std::min(lines.size(), most_lines); ++i) {
    std::string text = "- not on the card:";
    const std::size_t asked = std::min(lines[i].asks.size(), most_asked);
    for (std::size_t k = 0; k < asked; ++k) text += " " + lines[i].asks[k];
    if (lines[i].asks.size() > asked)
      text += fmt::format(" And {} more.", lines[i].asks.size() - asked);
    out += wrapped(text, width, 1, 2) + wrapped(lines[i].result, width, 5, 2);
  }
  return out;
}

}  // namespace

std::string missing_section(const Ranking& ranking, const TextStyle& style) {
  const std::size_t width = usable_width(style);
  std::string out;
  for (const MissingFinding& missing : ranking.missing) {
    if (!missing.matters) continue;
    out += wrapped("- " + what_to_do(missing), width, 1, 2) + what_else(missing, width) +
           wrapped(outcomes(ranking, missing), width, 5, 2);
  }
  out += gaps(ranking, width);
  if (out.empty()) {
    out = wrapped("No open question or check in the rules would change much of this by itself.",
                  width, 1, 2);
  }
  return "\n" + heading("MISSING, most telling for its time first", style) + out;
}

}  // namespace slipcase::report
